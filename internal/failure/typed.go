package failure

import (
	"fmt"
	"slices"
	"strings"
)

// Clip shortens what a user typed before it is put into a sentence.
func Clip(s string) string {
	r := []rune(strings.ToValidUTF8(strings.TrimSpace(s), "?"))
	if len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return string(r)
}

// Text tidies what was typed and refuses more than most bytes of it.
func Text(s string, most int, what string) (string, error) {
	s = strings.TrimSpace(strings.ToValidUTF8(s, "\uFFFD"))
	if len(s) > most {
		return "", New(BadInput, fmt.Sprintf("keep it under %d characters", most), "%s is too long", what)
	}
	return s, nil
}

// OneOf refuses a word that is not in the list; empty passes if it may be.
func OneOf(s string, list []string, mayBeEmpty bool, what string) error {
	if s == "" && mayBeEmpty || slices.Contains(list, s) {
		return nil
	}
	return New(BadInput, "take one of "+strings.Join(list, ", "), "%q is no %s", Clip(s), what)
}
