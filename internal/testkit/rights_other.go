//go:build !linux

package testkit

import "testing"

// AsAnyone does something as it is: elsewhere tests are not run as root.
func AsAnyone(_ testing.TB, do func()) { do() }
