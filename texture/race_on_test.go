//go:build race

package texture

// everyNth simulated jar is tried (11, since the classes come round every 12):
// the race detector makes a reading some ten times slower.
const everyNth = 11
