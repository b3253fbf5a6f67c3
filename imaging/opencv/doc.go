// Package opencv is the image engine built on OpenCV by way of gocv, and on
// libjpeg-turbo, the JPEG decoder OpenCV itself uses. It is compiled with the
// build tag opencv only and needs cgo and OpenCV 4 with the headers of libjpeg,
// which Debian installs with it.
package opencv
