// Package jarfind tells where the jar stands in upright pictures: its sides, its floor
// and its water line, as an imaging.Frame.
//
// Look lists the places of one picture where it may stand (thumb and relief, then
// coarse, rank, pair, foot and sides propose outlines; traits and regard weigh them;
// floor and waterline find the lines). Settle decides for all pictures of a jar
// together. Silhouette and Taper measure how the glass widens, View and Follow are for
// a camera that stays.
package jarfind
