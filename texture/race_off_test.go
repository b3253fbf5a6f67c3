//go:build !race

package texture

// everyNth simulated jar is tried: all of them.
const everyNth = 1
