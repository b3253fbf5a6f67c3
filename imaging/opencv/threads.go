//go:build opencv

package opencv

// #cgo CXXFLAGS: -std=c++11
// #cgo pkg-config: opencv4
// #include "threads.h"
import "C"

// Photos are read side by side, so OpenCV need not divide each up among threads
// of its own. These would wait for their next work in a loop that costs twice
// the processor time of the work itself.
func init() { C.mudline_one_thread() }
