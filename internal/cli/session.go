package cli

import (
	"bufio"
	"cmp"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"fettler/internal/casework"
	"fettler/internal/note"
	"fettler/internal/notedesk"
	"fettler/internal/partdesk"
	"fettler/internal/store/folder"
	"fettler/internal/store/sqlite"
)

// A session is one run of the program. Bench and notes are opened when they are needed.
type session struct {
	Main
	out     *bufio.Writer
	in      *bufio.Reader
	command string
	json    bool
	flags   Global

	store  *sqlite.Store
	where  string // the folder it is in
	opened *casework.Bench
	desk   *notedesk.Desk
}

func (s *session) env(name string) string {
	if s.Getenv == nil {
		return ""
	}
	return s.Getenv(name)
}

// say writes a message for people, unless JSON is wanted.
func (s *session) say(format string, args ...any) {
	if !s.json {
		(&page{w: s.Stderr}).para("", fmt.Sprintf(format, args...))
	}
}

// folder is where the bench is kept.
func (s *session) folder() (string, error) {
	if s.flags.Folder != "" {
		return s.flags.Folder, nil
	}
	if f := s.env("FETTLER_FOLDER"); f != "" {
		return f, nil
	}
	if f := dataFolder(s.OS, s.Home, s.env); f != "" {
		return f, nil
	}
	return "", &usageError{text: "no home folder is known, so there is no place for the bench", next: "name one with --folder or FETTLER_FOLDER"}
}

// dataFolder is where programs keep a user's data: on Linux by the XDG Base
// Directory Specification 0.8, on macOS in Application Support, on Windows in
// the local application data.
func dataFolder(system, home string, env func(string) string) string {
	switch {
	case system == "windows" && env("LOCALAPPDATA") != "":
		return filepath.Join(env("LOCALAPPDATA"), "Fettler")
	case home == "":
		return ""
	case system == "windows":
		return filepath.Join(home, "AppData", "Local", "Fettler")
	case system == "darwin":
		return filepath.Join(home, "Library", "Application Support", "Fettler")
	case filepath.IsAbs(env("XDG_DATA_HOME")):
		return filepath.Join(env("XDG_DATA_HOME"), "fettler")
	}
	return filepath.Join(home, ".local", "share", "fettler")
}

// notesFolder is where the user's own notes are, and whether they must be there.
func (s *session) notesFolder() (dir string, must bool, err error) {
	if s.flags.Notes != "" {
		return s.flags.Notes, true, nil
	}
	f, err := s.folder()
	return filepath.Join(f, "notes"), false, err
}

// notes are the shipped notes with the user's own on top.
func (s *session) notes(ctx context.Context) (*note.Library, error) {
	d, err := s.writingDesk(ctx)
	if err != nil {
		return nil, err
	}
	return d.Library(), nil
}

// writingDesk reads the shipped notes with the user's own on top. A broken note
// of the user's own is told and otherwise left out.
func (s *session) writingDesk(ctx context.Context) (*notedesk.Desk, error) {
	if s.desk != nil {
		return s.desk, nil
	}
	dir, must, err := s.notesFolder()
	if err != nil {
		return nil, err
	}
	info, err := os.Stat(dir)
	switch {
	case err == nil && info.IsDir():
	case err == nil:
		return nil, &casework.Error{Code: casework.BadInput, Text: fmt.Sprintf("%q is not a folder", dir), Next: "name the folder your notes are in"}
	case must:
		return nil, &casework.Error{Code: casework.NotFound, Text: fmt.Sprintf("there is no folder %q", dir), Next: "name the folder your notes are in", Err: err}
	}
	d, err := notedesk.Open(ctx, dir)
	if err != nil {
		return nil, err
	}
	problems := d.Problems()
	for _, p := range problems.Errors() {
		if !s.json {
			(&page{w: s.Stderr}).line(p.String()) // one line, for whoever follows the place
		}
	}
	if len(problems) > 0 {
		s.say("(these notes are left out; fettler note lint shows all that is wrong)")
	}
	s.desk = d
	return d, nil
}

// journalFile is the journal's name in the folder, photosFolder that of the
// pictures' folder, filesFolder that of what came from other benches.
const (
	journalFile  = "journal.sqlite"
	photosFolder = "photos"
	filesFolder  = "from-others"
)

// bench opens the bench.
func (s *session) bench(ctx context.Context) (*casework.Bench, error) {
	if s.opened != nil {
		return s.opened, nil
	}
	notes, err := s.writingDesk(ctx)
	if err != nil {
		return nil, err
	}
	dir, err := s.folder()
	if err != nil {
		return nil, err
	}
	s.where = dir
	s.store, err = sqlite.Open(ctx, filepath.Join(dir, journalFile))
	if err != nil {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		return nil, &casework.Error{Code: casework.StoreFail, Text: err.Error(), Next: "name another folder with --folder, or see that this one can be written", Err: err}
	}
	s.opened = casework.New(s.store, notes, casework.Options{Now: s.Now, Photos: folder.New(filepath.Join(dir, photosFolder)), Files: folder.NewFiles(filepath.Join(dir, filesFolder))})
	return s.opened, nil
}

// parts is the parts desk of the bench.
func (s *session) parts(ctx context.Context) (*partdesk.Desk, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return nil, err
	}
	return partdesk.New(b), nil
}

func (s *session) close() {
	if s.store != nil {
		if err := s.store.Close(); err != nil {
			s.say("the journal was not closed cleanly: %v", err)
		}
	}
}

// sure is by for whoever has said that what is hard to believe was really so.
func (s *session) sure(really bool) casework.By {
	by := s.by()
	by.Really = really
	return by
}

// by says who reports.
func (s *session) by() casework.By {
	who := s.flags.Who
	if who == "" {
		who = s.env("FETTLER_WHO")
	}
	return casework.By{Who: who, Seen: s.flags.Seen}
}

// find resolves the name of a case. With past, no name is the last case worked
// on even if it is closed.
func (s *session) find(ctx context.Context, name string, past bool) (string, error) {
	b, err := s.bench(ctx)
	if err != nil {
		return "", err
	}
	if name != "" && s.flags.Case != "" {
		return s.findTwice(ctx, name)
	}
	name = cmp.Or(name, s.flags.Case, s.env("FETTLER_CASE"))
	if strings.TrimSpace(name) == "" && past {
		list, err := b.List(ctx)
		if err != nil {
			return "", err
		}
		for _, l := range list {
			if l.State != casework.Unreadable {
				return l.Case, nil
			}
		}
	}
	id, err := b.FindCase(ctx, name)
	return id, s.tryCases(s.tryEach(err, name))
}

// findTwice resolves the name of a case that is named by a word and by -c, too:
// both must mean the same one.
func (s *session) findTwice(ctx context.Context, name string) (string, error) {
	id, err := s.opened.FindCase(ctx, s.flags.Case)
	if err != nil {
		return "", s.tryCases(s.tryEach(err, s.flags.Case))
	}
	if other, err := s.opened.FindCase(ctx, name); err == nil && other == id {
		return id, nil
	}
	return "", &usageError{text: fmt.Sprintf("the case is named by -c %s already, so %q is one word too many", s.flags.Case, name), next: "name the case once; put quotes around what belongs together"}
}

// tryEach adds, where several cases fit a name, the command with each of them.
func (s *session) tryEach(err error, name string) error {
	var known *casework.Error
	if casework.CodeOf(err) != casework.Ambiguous || !errors.As(err, &known) {
		return err
	}
	t := &tryError{err: err}
	for _, c := range known.Choices {
		t.try = append(t.try, s.instead(name, c.ID)...)
	}
	if len(t.try) == 0 {
		return err
	}
	return t
}

// tryCases adds the command that helps to find a case.
func (s *session) tryCases(err error) error {
	switch casework.CodeOf(err) {
	case casework.NotFound:
		return &tryError{err, []string{"fettler cases", `fettler take-in "bread maker" --says "does not heat"`}}
	case "", casework.StoreFail:
		return err
	}
	if _, ok := err.(*tryError); ok {
		return err
	}
	return &tryError{err, []string{"fettler cases"}}
}
