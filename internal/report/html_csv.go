package report

import (
	"bytes"
	"encoding/csv"
	"io"

	"mudline/internal/reading"
	"mudline/internal/spreadsheet"
)

// csvHeader names the columns of CSV. Standard deviations are marked _sd.
var csvHeader = []string{"jar", "photo", "elapsed_s", "elapsed_sd_s", "elapsed_from", "line",
	"height_mm", "height_sd_mm", "height_percent", "height_sd_percent", "row_px", "placed_by"}

// CSV writes a row for each line read in each photo (RFC 4180), for a
// spreadsheet. The error is one of w.
func CSV(w io.Writer, r reading.Reading) error {
	b := bytes.NewBufferString(spreadsheet.BOM)
	c := csv.NewWriter(b)
	c.UseCRLF = true
	rows := [][]string{csvHeader}
	for _, p := range r.Photos {
		for _, l := range linesOf(p) {
			by := "program"
			if p.States(l) {
				by = "person"
			}
			cells := []string{spreadsheet.Text(r.Jar), spreadsheet.Text(p.File), spreadsheet.Number(p.ElapsedS), spreadsheet.Number(p.ElapsedSDS), p.ElapsedFrom, l.Key()}
			cells = append(cells, heightCells(p.HeightsMM.Of(l))...)
			cells = append(cells, heightCells(p.HeightsPercent.Of(l))...)
			rows = append(rows, append(cells, numberCell(p.RowsPx.Of(l)), by))
		}
	}
	if err := c.WriteAll(rows); err != nil {
		return err
	}
	_, err := b.WriteTo(w)
	return err
}

func heightCells(h *reading.Height) []string {
	if h == nil {
		return []string{"", ""}
	}
	return []string{spreadsheet.Number(h.Value), spreadsheet.Number(h.SD)}
}

func numberCell(v *float64) string {
	if v == nil {
		return ""
	}
	return spreadsheet.Number(*v)
}
