package stock

import (
	"encoding/csv"
	"fmt"
	"io"
	"strconv"

	"fettler/internal/cell"
	"fettler/internal/part/fit"
	"fettler/internal/part/unit"
)

// Write writes lines as a list that Open and Take read back: the fields first,
// then a column for each figure or word that any line has. Text that a spreadsheet would
// take for a formula is guarded (package cell), which Take takes away.
func Write(w io.Writer, lines []Line) error {
	columns := used(lines)
	out := csv.NewWriter(w)
	head := []string{Name, Kind, Count, Place, From, Board, Note}
	for _, p := range columns {
		head = append(head, string(p))
	}
	if err := out.Write(head); err != nil {
		return fmt.Errorf("the list cannot be written: %w", err)
	}
	row := make([]string, len(head))
	for _, l := range lines {
		row = append(row[:0], cell.Guard(l.Name), string(l.Kind), strconv.Itoa(l.Count), cell.Guard(l.Place), l.From, cell.Guard(l.Board), cell.Guard(l.Note))
		for _, p := range columns {
			row = append(row, l.show(p))
		}
		if err := out.Write(row); err != nil {
			return fmt.Errorf("the list cannot be written: %w", err)
		}
	}
	out.Flush()
	return out.Error()
}

func used(lines []Line) []fit.Param {
	has := map[fit.Param]bool{}
	for _, l := range lines {
		for p := range l.Figures {
			has[p] = true
		}
		for p := range l.Words {
			has[p] = true
		}
	}
	var out []fit.Param
	for _, p := range fit.Params() {
		if has[p] {
			out = append(out, p)
		}
	}
	return out
}

func (l Line) show(p fit.Param) string {
	if p.Word() {
		return cell.Guard(l.Words[p])
	}
	v, ok := l.Figures[p]
	if !ok {
		return ""
	}
	u, _ := p.Figure()
	if u == "C" || u == "" {
		return strconv.FormatFloat(v, 'g', -1, 64)
	}
	return unit.FormatDigits(v, u, 9)
}
