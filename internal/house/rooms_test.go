package house_test

import (
	"slices"
	"strings"
	"testing"
)

// A room is a package and what it may import of this repository and from
// outside the standard library. Arrows run one way:
// cmd → web, cli → casework, appraise → plan → belief → note.
type room struct {
	path    string
	may     []string // packages of this repository; "part/" stands for all below part
	outside []string // modules
	pure    bool     // no files, no network, no clock: same input, same output
	why     string
}

var rooms = []room{
	{path: "cmd/fettler", may: []string{"internal/appraise", "internal/casework", "internal/cli", "internal/demo", "internal/web"}, outside: []string{"github.com/mattn/go-isatty"},
		why: "ties the program to the machine; whether there is a terminal is the machine's to say"},
	{path: "internal/cli", may: []string{"internal/appraise", "internal/casework", "internal/cli/shell", "internal/heatdesk", "internal/label", "internal/ledger", "internal/note", "internal/notedesk", "internal/openrepair", "internal/partdesk", "internal/quantity", "internal/report", "internal/shelf", "internal/store/folder", "internal/store/sqlite", "library", "library/records"}, outside: []string{"github.com/alecthomas/kong"},
		why: "a face on casework; it opens the store and the notes, and has no rule of the trade, so no belief and no plan"},
	{path: "internal/cli/shell", pure: true, why: "splits and quotes words"},
	{path: "internal/web", may: []string{"internal/appraise", "internal/casework", "internal/heatdesk", "internal/label", "internal/ledger", "internal/note", "internal/notedesk", "internal/openrepair", "internal/partdesk", "internal/quantity", "internal/report", "internal/shelf"}, outside: []string{"github.com/yuin/goldmark"},
		why: "a face on casework; it knows no store and has no rule of the trade, so no belief and no plan"},
	{path: "internal/web/browsertest", why: "tests of the pages in a browser"},
	{path: "internal/report", may: []string{"internal/casework", "internal/heatdesk", "internal/quantity"}, outside: []string{"codeberg.org/go-pdf/fpdf", "golang.org/x/image"}, why: "writes up what casework and the heat desk show"},
	{path: "internal/demo", may: []string{"internal/casework"}, why: "the invented case is made of deeds like any other"},
	{path: "internal/appraise", may: []string{"internal/belief", "internal/note", "internal/plan", "internal/words", "library/judged", "library/records"}, outside: []string{"github.com/kljensen/snowball"},
		why: "a device known by words only: no case, no store, no screen"},
	{path: "internal/casework", may: []string{"internal/belief", "internal/failure", "internal/journal", "internal/ledger", "internal/note", "internal/openrepair", "internal/part", "internal/part/", "internal/photo", "internal/plan", "internal/quantity", "internal/rework", "internal/school", "internal/shelf", "internal/soak", "internal/words"},
		why: "the use-cases; it asks for a journal and knows no store and no screen"},
	{path: "internal/store/sqlite", may: []string{"internal/journal"}, outside: []string{"github.com/pressly/goose/v3", "modernc.org/sqlite"}, why: "keeps journals and does not know what events mean"},
	{path: "internal/disk", why: "writes files whole; it does not know what is in them"},
	{path: "internal/store/folder", may: []string{"internal/disk"}, why: "keeps pictures as files and does not know what they show"},
	{path: "internal/store/memory", may: []string{"internal/journal"}, outside: []string{"golang.org/x/text"}, why: "keeps journals for tests"},
	{path: "internal/store/storetest", may: []string{"internal/journal"}, outside: []string{"github.com/google/go-cmp"}, why: "what every store must pass"},
	{path: "internal/notecraft", may: []string{"internal/belief", "internal/note", "internal/plan", "internal/quantity"}, why: "helps whoever writes notes; it knows no case"},
	{path: "internal/notedesk", may: []string{"internal/belief", "internal/disk", "internal/failure", "internal/note", "internal/notecraft", "internal/quantity", "library"},
		why: "keeps the library with the user's own notes on top and puts notecraft's findings into words; it knows no screen and no case"},
	{path: "internal/heatdesk", may: []string{"internal/failure", "internal/heat", "internal/rework"},
		why: "the question at the board, answered before any case is opened; it knows no case and no screen"},
	{path: "internal/partdesk", may: []string{"internal/failure", "internal/note", "internal/part", "internal/part/", "internal/quantity"}, pure: true,
		why: "a part in the hand, without a case; it asks for the shelf and for what a case says through an interface of its own, and knows no casework and no screen"},
	{path: "internal/shelf", may: []string{"internal/failure", "internal/journal", "internal/note", "internal/part", "internal/part/"}, pure: true,
		why: "the parts at hand, made of events it is handed; it writes none, and knows no case"},
	{path: "internal/school", may: []string{"internal/failure", "internal/journal", "internal/ledger", "internal/note"}, pure: true,
		why: "what closed cases teach, kept up to date; what their events mean it asks through an interface of its own, so it knows no case"},
	{path: "internal/journal", may: []string{"internal/failure"}, pure: true, why: "what a store must be; it knows no store, and no event's meaning"},
	{path: "internal/failure", pure: true, why: "a sentence and what to do; every room that a user can get wrong uses it, so it knows none"},
	{path: "internal/ledger", may: []string{"internal/note"}, outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "counts what closed cases teach; it is handed the cases"},
	{path: "internal/plan", may: []string{"internal/belief", "internal/note"}, pure: true, why: "decides on a belief; how that came about is not its business, nor is any case"},
	{path: "internal/belief", may: []string{"internal/note"}, outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "reckons on a model; costs are the plan's"},
	{path: "internal/note", may: []string{"internal/quantity"}, outside: []string{"go.yaml.in/yaml/v4"}, why: "reads notes into models; it knows no store and no screen"},
	{path: "internal/words", outside: []string{"github.com/kljensen/snowball"}, pure: true, why: "what a sentence states; it is handed the symptoms, so it knows no note"},
	{path: "internal/quantity", pure: true, why: "numbers with units, below everything"},
	{path: "internal/part", may: []string{"internal/part/", "internal/quantity"}, outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "reckons on parts alone"},
	{path: "internal/part/", may: []string{"internal/cell", "internal/part", "internal/part/", "internal/quantity"}, outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "reckons on parts alone"},
	{path: "internal/heat", outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "one computation, no case"},
	{path: "internal/soak", outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "one computation, no case"},
	{path: "internal/circuit", may: []string{"internal/quantity"}, outside: []string{"gonum.org/v1/gonum"}, pure: true, why: "one computation, no case"},
	{path: "internal/wave", may: []string{"internal/quantity"}, outside: []string{"gonum.org/v1/gonum", "github.com/go-audio/wav", "github.com/go-audio/audio"}, pure: true, why: "one computation, no case"},
	{path: "internal/label", outside: []string{"github.com/boombuler/barcode"}, pure: true, why: "draws labels; it is handed what stands on them"},
	{path: "internal/photo", outside: []string{"golang.org/x/image"}, pure: true, why: "makes a picture fit to keep; it is handed the bytes"},
	{path: "internal/rework", may: []string{"internal/heat", "internal/note", "internal/part", "internal/part/", "internal/quantity"}, pure: true,
		why: "how a part comes out and goes in again; it knows no case"},
	{path: "internal/cell", pure: true, why: "text in a cell of a table, below everything"},
	{path: "internal/openrepair", may: []string{"internal/cell"}, pure: true, why: "the open repair data standard; it knows no case"},
	{path: "internal/house", why: "tests only"},
	{path: "library", may: []string{"internal/note", "library/records"}, why: "the shipped notes, and no code but what reads them"},
	{path: "library/judged", may: []string{"library/records"}, why: "the trade's odds by the classes and categories of the records, and no code but what reads them"},
	{path: "library/records", outside: []string{"gonum.org/v1/gonum"}, why: "the shipped counts, and no code but what reads them"},
	{path: "tools/checkall", why: "runs the tests; it must not need what it tests"},
}

// impure are the packages of the standard library that no pure package may have.
var impure = []string{"os", "os/exec", "net", "net/http", "database/sql", "log", "log/slog", "io/ioutil", "path/filepath", "math/rand"}

func roomOf(path string) *room {
	var below *room
	for i := range rooms {
		switch r := &rooms[i]; {
		case r.path == path:
			return r
		case strings.HasSuffix(r.path, "/") && strings.HasPrefix(path, r.path):
			below = r
		}
	}
	return below
}

func covers(allowed []string, path string) bool {
	return slices.ContainsFunc(allowed, func(a string) bool {
		return a == path || strings.HasSuffix(a, "/") && strings.HasPrefix(path, a)
	})
}

func TestArrowsRunOneWay(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.test {
			continue
		}
		r := roomOf(f.dir)
		if r == nil {
			t.Errorf("%s: package %s has no room; say in rooms_test.go what it may import, and why", f.path, f.dir)
			continue
		}
		for _, imported := range f.imports {
			switch own, ok := strings.CutPrefix(imported, "fettler/"); {
			case ok && !covers(r.may, own):
				t.Errorf("%s imports %s, but %s %s", f.path, own, f.dir, r.why)
			case !ok && strings.Contains(strings.Split(imported, "/")[0], ".") && !slices.ContainsFunc(r.outside, func(m string) bool { return imported == m || strings.HasPrefix(imported, m+"/") }):
				t.Errorf("%s imports %s, but %s %s; name the module in rooms_test.go if it is worth it", f.path, imported, f.dir, r.why)
			case r.pure && slices.Contains(impure, imported):
				t.Errorf("%s imports %s, but %s must be pure: %s", f.path, imported, f.dir, r.why)
			}
		}
	}
}
