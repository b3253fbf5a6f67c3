package testkit

import "time"

// Quickest is how long something takes undisturbed: the least of three times, since a
// machine that does other things besides only ever adds to one.
func Quickest(do func()) time.Duration {
	least := time.Duration(1<<63 - 1)
	for range 3 {
		began := time.Now()
		do()
		least = min(least, time.Since(began))
	}
	return least
}
