package storetest

import (
	"context"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fettler/internal/journal"
)

// testFind: pages are found by all words, the last as a beginning, and by keys;
// latest kept first; a page kept anew stands for the old one; another form begins afresh.
func testFind(t *testing.T, j journal.Journal) {
	f, ok := j.(journal.Finder)
	if !ok {
		t.Fatal("the store cannot search")
	}
	ctx := context.Background()
	page := func(id, text string, closed bool, keys ...string) journal.Page {
		return journal.Page{Case: id, Text: text, Keys: keys, Closed: closed, Shown: []byte(`{"case":"` + id + `"}`)}
	}
	mark, form, err := f.Kept(ctx)
	if err != nil || mark != 0 || form != "" {
		t.Fatalf("kept at first: %d %q %v", mark, form, err)
	}
	must(t, f.Keep(ctx, "1", 7, []journal.Page{
		page("a", "Hall left\nit hums, “brummt” wie Käse", true, "d1", "s1", "s2"),
		page("b", "Hall right: humming AND crackling", false, "d1", "s2"),
		page("c", "Bread maker does not knead", true, "d2", "s3"),
	}))
	find := func(q journal.Query) []string {
		t.Helper()
		if q.Most == 0 {
			q.Most = 10
		}
		pages, err := f.Find(ctx, q)
		must(t, err)
		ids := []string{}
		for _, p := range pages {
			ids = append(ids, p.Case)
			if string(p.Shown) != `{"case":"`+p.Case+`"}` {
				t.Errorf("%s shows %s", p.Case, p.Shown)
			}
		}
		return ids
	}
	for name, x := range map[string]struct {
		q    journal.Query
		want []string
	}{
		"a word":                {journal.Query{Words: []string{"hall"}}, []string{"b", "a"}},
		"two, one of them":      {journal.Query{Words: []string{"hall", "crackling"}}, []string{"b"}},
		"a beginning":           {journal.Query{Words: []string{"hum"}}, []string{"b", "a"}},
		"no beginning before":   {journal.Query{Words: []string{"hum", "hall"}}, []string{}},
		"without accents":       {journal.Query{Words: []string{"kase"}}, []string{"a"}},
		"with accents":          {journal.Query{Words: []string{"käse"}}, []string{"a"}},
		"words of the language": {journal.Query{Words: []string{"and"}}, []string{"b"}},
		"quotes and brackets":   {journal.Query{Words: []string{`"a) OR (b"`}}, []string{}},
		"a key":                 {journal.Query{Must: []string{"d1"}}, []string{"b", "a"}},
		"keys are no words":     {journal.Query{Words: []string{"d1"}}, []string{}},
		"any key":               {journal.Query{Any: []string{"s1", "s3"}}, []string{"c", "a"}},
		"closed ones":           {journal.Query{Any: []string{"s2"}, Closed: true}, []string{"a"}},
		"only the latest":       {journal.Query{Words: []string{"hall"}, Most: 1}, []string{"b"}},
		"nothing asked":         {journal.Query{}, []string{}},
	} {
		if diff := cmp.Diff(x.want, find(x.q)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", name, diff)
		}
	}
	must(t, f.Keep(ctx, "1", 9, []journal.Page{page("a", "Hall left, sold", true, "d1")}))
	if diff := cmp.Diff([]string{"a", "b"}, find(journal.Query{Words: []string{"hall"}})); diff != "" {
		t.Errorf("kept anew (-want +got):\n%s", diff)
	}
	if got := find(journal.Query{Words: []string{"brummt"}}); len(got) > 0 {
		t.Errorf("the old page is found: %v", got)
	}
	must(t, f.Keep(ctx, "2", 3, nil))
	mark, form, err = f.Kept(ctx)
	if err != nil || mark != 3 || form != "2" || len(find(journal.Query{Words: []string{"hall"}})) > 0 {
		t.Errorf("after another form: %d %q %v", mark, form, err)
	}
}
