package press

import (
	"io"
	"time"

	"github.com/go-pdf/fpdf"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"

	"mudline/internal/backdrop"
)

const pointsPerMM = 72 / mmPerInch

// WritePDF writes one page for each sheet. The same sheets give the same bytes.
func WritePDF(to io.Writer, title string, sheets ...*backdrop.Print) error {
	f := fpdf.NewCustom(&fpdf.InitType{UnitStr: "mm"})
	f.SetCatalogSort(true)
	when := time.Unix(0, 0).UTC()
	f.SetCreationDate(when)
	f.SetModificationDate(when)
	f.SetTitle(title, true)
	f.SetProducer("mudline", false) // by which the program knows its own
	f.SetMargins(0, 0, 0)
	f.SetAutoPageBreak(false, 0)
	f.AddUTF8FontFromBytes("go", "", goregular.TTF)
	f.AddUTF8FontFromBytes("go", "B", gobold.TTF)
	for _, p := range sheets {
		w, h := p.Paper.SizeMM()
		f.AddPageFormat("P", fpdf.SizeType{Wd: w, Ht: h})
		for _, b := range p.Boxes {
			v := int(backdrop.Level(b.Ink))
			f.SetFillColor(v, v, v)
			f.Rect(b.X0+w/2, h-b.Y1, b.X1-b.X0, b.Y1-b.Y0, "F")
		}
		for _, t := range p.Words {
			style := ""
			if t.Bold {
				style = "B"
			}
			f.SetFont("go", style, t.SizeMM*pointsPerMM)
			v := int(backdrop.Level(t.Ink))
			f.SetTextColor(v, v, v)
			x := t.X + w/2 - f.GetStringWidth(t.Text)*float64(t.Side+1)/2
			f.Text(x, h-t.Y, t.Text)
		}
	}
	return f.Output(to)
}
