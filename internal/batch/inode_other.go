//go:build !unix

package batch

import "io/fs"

// inode is not known here: size and time must do.
func inode(fs.FileInfo) uint64 { return 0 }
