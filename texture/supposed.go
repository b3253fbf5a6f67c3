package texture

// What stands in for the water's temperature and depth where nobody stated them:
// a room, and a quart jar (common practice).
const (
	RoomTempC    = 20
	UsualDepthMM = 125
)
