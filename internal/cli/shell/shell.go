// Package shell splits a command line into words as a POSIX shell does, and
// quotes words so that a shell gives them back; no more of a shell than that.
//
// Split understands blanks, single quotes, double quotes (with \ before ", \,
// $ and `), a backslash before any other character, and # at the start of a
// word, which ends the line. It refuses what it would not do as a shell does:
// $, `, and the operators | & ; < > ( ).
//
// References: POSIX.1-2017, Shell Command Language, 2.2 Quoting, 2.3 Token
// Recognition.
package shell

import (
	"fmt"
	"strings"
)

// Split cuts a line into words.
func Split(line string) ([]string, error) {
	var words []string
	var word strings.Builder
	in := false // a word has begun
	r := []rune(line)
	for i := 0; i < len(r); i++ {
		switch c := r[i]; {
		case c == ' ' || c == '\t':
			if in {
				words = append(words, word.String())
				word.Reset()
				in = false
			}
		case c == '#' && !in:
			return words, nil
		case c == '\'' || c == '"':
			end, err := quoted(r, i, &word)
			if err != nil {
				return nil, err
			}
			i, in = end, true
		case c == '\\':
			if i++; i == len(r) {
				return nil, fmt.Errorf("the line ends with a backslash")
			}
			word.WriteRune(r[i])
			in = true
		case strings.ContainsRune("$`|&;<>()\n", c):
			return nil, fmt.Errorf("%q is more than a plain command", c)
		default:
			word.WriteRune(c)
			in = true
		}
	}
	if in {
		words = append(words, word.String())
	}
	return words, nil
}

// quoted reads the quoted piece that starts at i and returns where it ends.
func quoted(r []rune, i int, word *strings.Builder) (int, error) {
	mark := r[i]
	for i++; i < len(r); i++ {
		c := r[i]
		switch {
		case c == mark:
			return i, nil
		case mark == '"' && c == '\\' && i+1 < len(r) && strings.ContainsRune("\"\\$`", r[i+1]):
			i++
			word.WriteRune(r[i])
		case mark == '"' && (c == '$' || c == '`'):
			return 0, fmt.Errorf("%q is more than a plain command", c)
		default:
			word.WriteRune(c)
		}
	}
	return 0, fmt.Errorf("a quote %q is not closed", mark)
}

// plain are the characters that mean nothing to a shell.
const plain = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_./:=,+@%"

// Quote writes words as one line that Split, or a shell, gives back.
func Quote(words ...string) string {
	out := make([]string, len(words))
	for i, w := range words {
		out[i] = quote(w)
	}
	return strings.Join(out, " ")
}

func quote(w string) string {
	safe := w != ""
	for _, c := range w {
		safe = safe && (strings.ContainsRune(plain, c) || c > 127)
	}
	switch {
	case safe:
		return w
	case !strings.ContainsAny(w, "\"\\$`!"):
		return `"` + w + `"`
	}
	return "'" + strings.ReplaceAll(w, "'", `'\''`) + "'"
}
