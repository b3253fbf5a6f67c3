package report

import (
	"bytes"
	"encoding/csv"
	"io"

	"mudline/internal/reading"
	"mudline/internal/sheet"
)

// csvHeader names the columns of CSV. Standard deviations are marked _sd.
var csvHeader = []string{"jar", "photo", "elapsed_s", "elapsed_sd_s", "elapsed_from", "line",
	"height_mm", "height_sd_mm", "height_percent", "height_sd_percent", "row_px", "placed_by"}

// CSV writes a row for each line read in each photo (RFC 4180), for a
// spreadsheet. The error is one of w.
func CSV(w io.Writer, r reading.Reading) error {
	b := bytes.NewBufferString(sheet.BOM)
	c := csv.NewWriter(b)
	c.UseCRLF = true
	rows := [][]string{csvHeader}
	for _, p := range r.Photos {
		for _, n := range lineNames {
			row, mm, share := lineOf(p, n.key)
			if row == nil && mm == nil && share == nil {
				continue
			}
			by := "program"
			if mark(p, n.key) != "" {
				by = "person"
			}
			cells := []string{sheet.Text(r.Jar), sheet.Text(p.File), sheet.Number(p.ElapsedS), sheet.Number(p.ElapsedSDS), p.ElapsedFrom, n.key}
			cells = append(cells, heightCells(mm)...)
			cells = append(cells, heightCells(share)...)
			rows = append(rows, append(cells, numberCell(row), by))
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
	return []string{sheet.Number(h.Value), sheet.Number(h.SD)}
}

func numberCell(v *float64) string {
	if v == nil {
		return ""
	}
	return sheet.Number(*v)
}
