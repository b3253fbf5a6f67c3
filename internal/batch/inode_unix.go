//go:build unix

package batch

import (
	"io/fs"
	"syscall"
)

// inode is the number of a file in its file system; it changes when a file is
// replaced by another.
func inode(info fs.FileInfo) uint64 {
	if st, ok := info.Sys().(*syscall.Stat_t); ok {
		return uint64(st.Ino)
	}
	return 0
}
