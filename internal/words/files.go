//go:build !js

package words

import "embed"

// files holds a catalogue for each language: key to text, or to its forms
// {"one": ..., "other": ...}, the plural categories of Unicode CLDR. {name} in a text is
// filled in.
//
//go:embed catalogue/*.json
var files embed.FS
