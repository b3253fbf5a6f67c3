package words

import "embed"

// files holds English; the page gives the program the catalogue it has fetched (New).
//
//go:embed catalogue/en.json
var files embed.FS
