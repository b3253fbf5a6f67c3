// Package imaging turns a phone's picture of a settling jar into a straight
// strip of the jar's front, row by row at a known height above the inner floor.
//
// Coordinate systems, in the order a photo passes through them:
//
//   - stored pixel: as the file holds it, before the EXIF orientation;
//   - full pixel: upright (orientation applied), full size; 0,0 is the outer
//     corner of the first pixel, x right, y down. What is published
//     (reading.json) is in full pixels;
//   - working pixel: the same picture reduced by Photo.Scale for speed;
//   - jar coordinates: height above the inner floor at the front of the jar,
//     as a share of the water depth (0 floor, 1 water surface), and u, the
//     position across the jar as a share of its half width (-1 left outer edge
//     of the glass, 0 the centre line, +1 right edge).
//
// Frame converts between working pixels and jar coordinates; package jarfind tells
// where it lies. The package reads bytes and pictures it is given; it opens no file.
package imaging
