package appraise

import "fettler/internal/words"

// heard says of each text what was understood: findings of the notes, general
// symptoms, parts, and the words left over.
func (s *study) heard() []Heard {
	out := make([]Heard, len(s.texts))
	titles := generalTitles()
	for i, t := range s.texts {
		h := Heard{Text: t.text, Check: t.check, Signs: []Sign{}, Organs: []Organ{}}
		var taken []words.Span
		for _, m := range t.general.Matches {
			h.Signs = append(h.Signs, sign("", titles[m.ID], t.text, m))
			taken = append(taken, words.Span{Start: m.Start, End: m.End})
		}
		for _, q := range s.notes {
			for _, m := range q.heard[i] {
				f := &q.bench.model.Findings[q.bench.finding[m.ID]]
				h.Signs = append(h.Signs, sign(q.device.ID, f.Title, t.text, m))
				taken = append(taken, words.Span{Start: m.Start, End: m.End})
			}
		}
		for _, m := range t.organs {
			o := &organs[m.organ]
			h.Organs = append(h.Organs, Organ{Name: o.name, Class: o.class, State: m.state.String(), Words: t.text[m.start:m.end]})
			taken = append(taken, words.Span{Start: m.start, End: m.end})
		}
		h.Unread = leftOver(t.text, taken)
		out[i] = h
	}
	return out
}

func generalTitles() map[string]string {
	out := map[string]string{}
	for _, e := range words.General() {
		out[e.ID] = e.Title
	}
	return out
}

func sign(device, title, text string, m words.Match) Sign {
	says := "shows"
	switch {
	case m.Denied:
		says = "absent"
	case m.Intermittent:
		says = "now and then"
	}
	return Sign{ID: m.ID, Device: device, Title: title, Says: says, Words: text[m.Start:m.End], Score: m.Score}
}

// leftOver are the words with a meaning outside the spans.
func leftOver(text string, taken []words.Span) []string {
	var out []string
	for _, t := range tokenize(text) {
		_, bad := stateWord(t.word)
		used := idle[t.word] || notWords[t.word] || goodWords[t.word] || bad || stillWords[t.word]
		for _, s := range taken {
			used = used || t.start >= s.Start && t.end <= s.End
		}
		if !used {
			out = append(out, text[t.start:t.end])
		}
	}
	return out
}
