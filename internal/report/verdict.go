package report

import "mudline/internal/reading"

// Verdict names the class of a reading, or the few of which it is one, and says how
// sure that is: "loam or clay loam", "one of these, 92 in 100 together".
func Verdict(c reading.Class) (name, certainty string) { return verdict(c) }
