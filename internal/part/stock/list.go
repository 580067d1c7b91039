package stock

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"maps"
	"slices"
	"strconv"
	"strings"

	"fettler/internal/cell"
	"fettler/internal/part"
	"fettler/internal/part/fit"
	"fettler/internal/part/unit"
)

// Bounds on a list.
const (
	MostLines = 200_000
	MostBytes = 32 << 20
	MostCount = 1_000_000 // pieces of one line
	mostField = 200       // bytes of one field
)

// A Line is one line of a list.
type Line struct {
	Name    string
	Kind    part.Kind
	Figures map[fit.Param]float64
	Words   map[fit.Param]string
	Count   int
	Place   string // drawer, box
	From    string // New, Pulled or OnBoard
	Board   string // OnBoard: which
	Note    string
}

// Where a part comes from.
const (
	New     = "new"
	Pulled  = "pulled"
	OnBoard = "on a board" // not taken off yet
)

// Origins lists where a part may come from.
func Origins() []string { return []string{New, Pulled, OnBoard} }

// The fields a column may hold besides the figures and words of package fit.
const (
	Skip  = ""
	Name  = "what it is"
	Kind  = "kind"
	Count = "pieces"
	Place = "place"
	From  = "comes from"
	Board = "board"
	Note  = "note"
)

// Fields lists all a column may hold.
func Fields() []string {
	out := []string{Name, Kind, Count, Place, From, Board, Note}
	for _, p := range fit.Params() {
		out = append(out, string(p))
	}
	return out
}

// A Trouble is a line that cannot be taken.
type Trouble struct {
	Line int // of the file, from 1
	Text string
}

// A List is a list whose headings have been read.
type List struct {
	Headings []string
	rows     [][]string
	lines    []int // where each row begins
	comma    rune
	Troubles []Trouble // lines that are no CSV
}

// Open reads a list with its headings. The columns have no meaning yet.
func Open(data []byte) (*List, error) {
	if len(data) > MostBytes {
		return nil, fmt.Errorf("the list has more than %d MB; cut it in parts", MostBytes>>20)
	}
	data = bytes.TrimPrefix(data, []byte("\xef\xbb\xbf"))
	l := &List{comma: comma(data)}
	r := csv.NewReader(bytes.NewReader(data))
	r.Comma, r.FieldsPerRecord, r.TrimLeadingSpace = l.comma, -1, true
	head, err := r.Read()
	if err != nil {
		return nil, errors.New("the list has no line of headings; the first line must name the columns")
	}
	for _, h := range head {
		l.Headings = append(l.Headings, clean(h))
	}
	return l, l.read(r)
}

func (l *List) read(r *csv.Reader) error {
	for {
		row, err := r.Read()
		var bad *csv.ParseError
		switch {
		case errors.Is(err, io.EOF):
			return nil
		case errors.As(err, &bad):
			l.Troubles = append(l.Troubles, Trouble{bad.StartLine, "is no CSV: a quote is missing or stands in the middle of a field"})
			continue
		case err != nil:
			return fmt.Errorf("the list cannot be read: %w", err)
		}
		if len(l.rows) >= MostLines {
			return fmt.Errorf("the list has more than %d lines; cut it in parts", MostLines)
		}
		at, _ := r.FieldPos(0)
		l.rows, l.lines = append(l.rows, row), append(l.lines, at)
	}
}

// comma finds what parts the columns, by the first line.
func comma(data []byte) rune {
	head, _, _ := bytes.Cut(data, []byte("\n"))
	best, most := ',', bytes.Count(head, []byte(","))
	for _, c := range []rune{';', '\t'} {
		if n := bytes.Count(head, []byte(string(c))); n > most {
			best, most = c, n
		}
	}
	return best
}

// Len is the number of lines, troubles not counted.
func (l *List) Len() int { return len(l.rows) }

// Sample returns the first n lines as they stand.
func (l *List) Sample(n int) [][]string { return l.rows[:min(n, len(l.rows))] }

// headings are the names columns often have.
var headings = map[string]string{
	"what": Name, "name": Name, "part": Name, "description": Name, "item": Name, "value": Name, "what it is": Name,
	"kind": Kind, "type": Kind, "category": Kind,
	"pieces": Count, "count": Count, "quantity": Count, "qty": Count, "number": Count, "amount": Count, "stock": Count,
	"place": Place, "location": Place, "drawer": Place, "box": Place, "bin": Place, "where": Place,
	"comes from": From, "from": From, "origin": From, "source": From, "condition": From, "provenance": From,
	"board": Board, "donor": Board, "note": Note, "notes": Note, "remark": Note, "comment": Note,
	"voltage": string(fit.VoltsDC), "current": string(fit.Current), "power": string(fit.Power), "tolerance": string(fit.Tolerance), "esr": string(fit.ESR),
	"package": string(fit.Package), "footprint": string(fit.Package), "temperature": string(fit.TempMax), "ripple": string(fit.Ripple), "dielectric": string(fit.Dielectric),
}

// Guess proposes what each column holds; every field at most once.
func (l *List) Guess() []string {
	out := make([]string, len(l.Headings))
	taken := map[string]bool{}
	for i, h := range l.Headings {
		low := strings.ToLower(h)
		f := headings[low]
		for _, x := range Fields() {
			if strings.EqualFold(x, low) {
				f = x
			}
		}
		if f != Skip && !taken[f] {
			out[i], taken[f] = f, true
		}
	}
	return out
}

// Take reads the lines with what each column holds. Lines that cannot be taken are
// in the troubles, in the order of the file.
func (l *List) Take(columns []string) ([]Line, []Trouble, error) {
	at := map[string]int{}
	for i, f := range columns {
		if f == Skip {
			continue
		}
		if !slices.Contains(Fields(), f) {
			return nil, nil, fmt.Errorf("%q is nothing a column can hold", f)
		}
		if _, twice := at[f]; twice {
			return nil, nil, fmt.Errorf("two columns hold the %s; leave one out", f)
		}
		at[f] = i
	}
	if _, ok := at[Name]; !ok {
		return nil, nil, fmt.Errorf("no column says what the parts are; choose one for %q", Name)
	}
	var out []Line
	troubles := slices.Clone(l.Troubles)
	for i, row := range l.rows {
		if empty(row) {
			continue
		}
		line, err := take(row, at, l.comma == ';')
		if err != nil {
			troubles = append(troubles, Trouble{l.lines[i], err.Error()})
			continue
		}
		out = append(out, line)
	}
	slices.SortStableFunc(troubles, func(a, b Trouble) int { return a.Line - b.Line })
	return out, troubles, nil
}

func empty(row []string) bool {
	return !slices.ContainsFunc(row, func(f string) bool { return strings.TrimSpace(f) != "" })
}

func take(row []string, at map[string]int, comma bool) (Line, error) {
	get := func(f string) string {
		if i, ok := at[f]; ok && i < len(row) {
			return clean(row[i])
		}
		return ""
	}
	for f := range at {
		if len(get(f)) > mostField {
			return Line{}, fmt.Errorf("the %s is too long; keep it under %d characters", f, mostField)
		}
	}
	name := get(Name)
	if name == "" {
		return Line{}, fmt.Errorf("it does not say what it is")
	}
	l := lineOf(name, get(Kind))
	l.Place, l.Board, l.Note, l.From = get(Place), get(Board), get(Note), New
	var err error
	if l.Count, err = pieces(get(Count)); err != nil {
		return Line{}, err
	}
	if l.From, err = origin(get(From), l.Board); err != nil {
		return Line{}, err
	}
	for _, f := range slices.Sorted(maps.Keys(at)) {
		if err := l.set(fit.Param(f), get(f), comma); err != nil {
			return Line{}, err
		}
	}
	return l, nil
}

// lineOf reads what the name says, with the kind if it was said apart.
func lineOf(name, kind string) Line {
	p := Read(name)
	if kind != "" {
		if k, err := part.ParseKind(kind); err == nil && p.Kind != k {
			p = Read(string(k) + " " + name)
		} else if err != nil && (p.Kind == part.Unknown || p.Guessed) {
			if q := Read(kind + " " + name); q.Kind != part.Unknown {
				p = q
			}
		}
	}
	return Line{Name: name, Kind: p.Kind, Figures: p.Figures, Words: p.Words, Count: 1}
}

func pieces(s string) (int, error) {
	if s == "" {
		return 1, nil
	}
	n, err := strconv.Atoi(s)
	if err != nil || n < 0 || n > MostCount {
		return 0, fmt.Errorf("%q is no number of pieces; write a whole number from 0 to %d", s, MostCount)
	}
	return n, nil
}

// origins are words for where parts come from.
var origins = map[string]string{"": New, "new": New, "bought": New, "unused": New, "pulled": Pulled, "used": Pulled, "salvaged": Pulled, "second hand": Pulled, OnBoard: OnBoard, "board": OnBoard, "donor": OnBoard}

func origin(s, board string) (string, error) {
	if s == "" && board != "" {
		return OnBoard, nil
	}
	o, ok := origins[strings.ToLower(s)]
	if !ok {
		return "", fmt.Errorf("%q does not say where it comes from; write one of %s", s, strings.Join(Origins(), ", "))
	}
	return o, nil
}

// set takes a figure or word from a column of its own; it stands above the name.
func (l *Line) set(p fit.Param, s string, comma bool) error {
	u, figure := p.Figure()
	switch {
	case s == "" || !figure && !p.Word():
		return nil
	case p.Word():
		l.Words[p] = s
		return nil
	}
	if comma {
		s = strings.Replace(s, ",", ".", 1)
	}
	var v float64
	var err error
	if u == "C" || u == "" {
		v, err = strconv.ParseFloat(s, 64)
	} else {
		v, err = unit.Parse(s, u)
	}
	if err != nil || !(v > 0) || v > 1e15 {
		return fmt.Errorf("%q is no %s; write it with its unit, as in %s", s, p, example(p))
	}
	l.Figures[p] = v
	return nil
}

func example(p fit.Param) string {
	switch p {
	case fit.Capacitance, fit.LoadCap:
		return "470 µF"
	case fit.Tolerance:
		return "5 %"
	case fit.Diameter, fit.Height, fit.Pitch:
		return "5 mm"
	}
	u, _ := p.Figure()
	return strings.TrimSpace("25 " + u)
}

// clean is a field without the mark that keeps a spreadsheet from taking it for a formula.
func clean(s string) string {
	return cell.Plain(strings.Join(strings.Fields(unit.Clean(strings.ToValidUTF8(s, "?"))), " "))
}
