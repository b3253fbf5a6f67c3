package report

import (
	"bytes"
	"io"
)

// cautions writes in two lines what to take care of with jars and soil, and where the
// rest stands.
func (o Options) cautions(b *bytes.Buffer) {
	b.WriteString("\n" + wrap(o.say("table.care-jar"), "", o.width()) + wrap(o.say("table.care-limits")+" "+o.say("table.care-more"), "", o.width()))
}

// WriteCautions writes for the terminal what to take care of with jars and soil.
func WriteCautions(w io.Writer, o Options) error {
	var b bytes.Buffer
	o.cautions(&b)
	_, err := w.Write(b.Bytes())
	return err
}
