// Package look is the one table of how things look: the colours of surfaces and text,
// the lines of a jar, sand, silt and clay, type and space. Pages, reports, charts and
// pictures all take theirs from here.
package look
