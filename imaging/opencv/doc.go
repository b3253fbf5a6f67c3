// Package opencv is the image engine built on OpenCV by way of gocv. It is
// compiled with the build tag opencv only and needs cgo and OpenCV 4.
package opencv
