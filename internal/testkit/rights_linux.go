package testkit

import (
	"os"
	"runtime"
	"syscall"
	"testing"
)

// nobody is the user of no rights of its own on Linux.
const nobody = 65534

// AsAnyone does something with the rights to files that people have, also where the test
// runs as root, who may write anywhere.
func AsAnyone(t testing.TB, do func()) {
	t.Helper()
	if os.Geteuid() != 0 {
		do()
		return
	}
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	// Rights to files are a thread's own; setting them gives no error, and root's caps go with them.
	if err := syscall.Setfsuid(nobody); err != nil {
		t.Fatal(err)
	}
	defer func() {
		if err := syscall.Setfsuid(0); err != nil {
			t.Fatal(err)
		}
	}()
	do()
}
