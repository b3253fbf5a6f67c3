//go:build !js

package main

import (
	"fmt"
	"os"
)

func main() {
	fmt.Fprintln(os.Stderr, "mudline-page runs inside a browser page: see mudline page")
	os.Exit(2)
}
