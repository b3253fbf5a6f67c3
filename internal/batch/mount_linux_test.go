package batch

import (
	"fmt"
	"syscall"
)

func mountSmall(dir string, bytes int) error {
	return syscall.Mount("tmpfs", dir, "tmpfs", 0, fmt.Sprintf("size=%d", bytes))
}

func unmount(dir string) { _ = syscall.Unmount(dir, syscall.MNT_DETACH) }
