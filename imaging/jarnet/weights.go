package jarnet

import (
	_ "embed"
	"sync"
)

//go:embed jarnet.weights
var packed []byte

// Fitted is the network with the weights that the program was built with.
var Fitted = sync.OnceValue(func() *Net {
	n := New()
	if err := n.Unpack(packed); err != nil {
		panic("jarnet: the embedded weights: " + err.Error())
	}
	return n
})
