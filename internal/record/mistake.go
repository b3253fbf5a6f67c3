package record

import "mudline/internal/words"

// Mistake is the error of something that a person stated and that cannot be. What goes
// wrong and is neither a Mistake nor a refusal is a fault of the program or of the disk.
type Mistake struct {
	// File is the record it stands in; empty where it was, or may have been, stated in
	// an option.
	File string
	// Line is where it stands in File, from 1; 0 where that is not known.
	Line int
	// Photo is the photo it was stated of; empty for the jar as a whole.
	Photo string
	// Key is what was stated, as a record has it: "box", "lines.floor"; empty where it is
	// not one value that is wrong.
	Key string
	// What is wrong with it.
	err error
}

// MistakeIn is what is wrong with something stated of a photo.
func MistakeIn(photo, key string, wrong words.Message) *Mistake {
	return &Mistake{Photo: photo, Key: key, err: words.In(photo, wrong)}
}

// Error says what is wrong, and of which file or photo.
func (m *Mistake) Error() string { return m.err.Error() }

// Unwrap gives what is wrong as a message.
func (m *Mistake) Unwrap() error { return m.err }
