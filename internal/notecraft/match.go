package notecraft

import (
	"slices"
	"strings"

	"fettler/internal/note"
)

// A tag is by what an item is known again: its ID, or one of its marks, the surest first.
type tag struct {
	id    string
	marks []string
}

// A matching pairs the items of two notes.
type matching struct {
	old, new []tag
	from     []int // per new item the old one it was, or -1
	to       []int // per old item the new one it is, or -1
}

// match pairs items by ID, then those left over by their marks, each mark only
// where it is the only one of its sort left on either side.
func match(old, now []tag) matching {
	m := matching{old, now, fill(len(now)), fill(len(old))}
	byID := map[string]int{}
	for i, t := range old {
		byID[t.id] = i
	}
	for j, t := range now {
		if i, ok := byID[t.id]; ok {
			m.pair(i, j)
		}
	}
	most := 0
	for _, t := range old {
		most = max(most, len(t.marks))
	}
	for k := range most {
		was, is := singles(old, m.to, k), singles(now, m.from, k)
		for mark, i := range was {
			if j, ok := is[mark]; ok && i >= 0 && j >= 0 {
				m.pair(i, j)
			}
		}
	}
	return m
}

func (m *matching) pair(i, j int) { m.to[i], m.from[j] = j, i }

func fill(n int) []int {
	out := make([]int, n)
	for i := range out {
		out[i] = -1
	}
	return out
}

// singles maps the k-th marks of the unpaired items to the item, -1 if several have it.
func singles(tags []tag, paired []int, k int) map[string]int {
	out := map[string]int{}
	for i, t := range tags {
		if paired[i] >= 0 || k >= len(t.marks) || t.marks[k] == "" {
			continue
		}
		if _, twice := out[t.marks[k]]; twice {
			out[t.marks[k]] = -1
		} else {
			out[t.marks[k]] = i
		}
	}
	return out
}

func (m matching) items() Items {
	var out Items
	for j, i := range m.from {
		switch {
		case i < 0:
			out.Added = append(out.Added, m.new[j].id)
		case m.old[i].id != m.new[j].id:
			out.Renamed = append(out.Renamed, Renamed{m.old[i].id, m.new[j].id})
		}
	}
	for i, j := range m.to {
		if j < 0 {
			out.Removed = append(out.Removed, m.old[i].id)
		}
	}
	return out
}

// The marks of a mode: its words; else its name, kind of part and class.
func modeTags(m *note.Model) []tag {
	out := make([]tag, len(m.Modes))
	for i := range m.Modes {
		x := &m.Modes[i]
		kind := m.Parts[x.Part].Kind
		out[i] = tag{x.ID, []string{plain(x.Title), strings.Join([]string{x.Name, kind, string(x.Class)}, "/")}}
	}
	return out
}

// The marks of a finding: its words; else the question.
func findingTags(m *note.Model) []tag {
	out := make([]tag, len(m.Findings))
	for i := range m.Findings {
		x := &m.Findings[i]
		sort := "free/"
		if x.Check >= 0 {
			sort = "check/"
		}
		says := slices.Sorted(slices.Values(x.Says))
		out[i] = tag{x.ID, []string{under(sort, x.Title), under(sort, x.Ask), under(sort, strings.Join(says, "|"))}}
	}
	return out
}

func checkTags(m *note.Model) []tag {
	out := make([]tag, len(m.Checks))
	for i := range m.Checks {
		x := &m.Checks[i]
		out[i] = tag{x.ID, []string{plain(x.Title), plain(x.How)}}
	}
	return out
}

// The marks of a repair: its words; else how it is done.
func repairTags(m *note.Model) []tag {
	out := make([]tag, len(m.Repairs))
	for i := range m.Repairs {
		x := &m.Repairs[i]
		out[i] = tag{x.ID, []string{plain(x.Title), plain(x.How)}}
	}
	return out
}

func plain(s string) string { return strings.ToLower(strings.Join(strings.Fields(s), " ")) }

// under is the words with their sort before them, or nothing if there are none.
func under(sort, words string) string {
	if words == "" {
		return ""
	}
	return sort + plain(words)
}
