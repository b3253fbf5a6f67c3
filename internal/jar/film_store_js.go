package jar

import "errors"

// In a page nothing is stored of a film on the way: it keeps the photos themselves, and
// what would be needed to store is no small part of the program.
var errNoStore = errors.New("no store in a page")

func (k *kept) encode() ([]byte, error)  { return nil, errNoStore }
func decodeKept(_ []byte) (*kept, error) { return nil, errNoStore }
