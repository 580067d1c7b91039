package cli

import (
	"slices"
	"strings"

	"github.com/alecthomas/kong"
)

// ordered puts the flags of a command before its other words, so that a flag
// may stand anywhere: "check NAME -c CASE finding=yes". What follows "--" stays
// behind it, and so does all that a command hands on to another (correct).
func ordered(root *kong.Node, args []string) []string {
	at := commandAt(args)
	node := root
	for at < len(args) {
		i := slices.IndexFunc(node.Children, func(c *kong.Node) bool { return c.Name == args[at] })
		if i < 0 {
			break
		}
		node, at = node.Children[i], at+1
	}
	if slices.ContainsFunc(node.Positional, func(v *kong.Value) bool { return v.Passthrough }) {
		return args
	}
	var flags, words []string
	rest := args[at:]
	for i := 0; i < len(rest); i++ {
		a := rest[i]
		if a == "--" {
			words = append(words, rest[i:]...)
			break
		}
		if !strings.HasPrefix(a, "-") || a == "-" {
			words = append(words, a)
			continue
		}
		flags = append(flags, a)
		if takesNext(node, a) && i+1 < len(rest) {
			i++
			flags = append(flags, rest[i])
		}
	}
	return slices.Concat(args[:at], flags, words)
}

// takesNext tells whether the value of a flag is the word after it.
func takesNext(node *kong.Node, typed string) bool {
	for _, group := range node.AllFlags(false) {
		for _, f := range group {
			if typed == "--"+f.Name || f.Short != 0 && typed == "-"+string(f.Short) {
				return !f.IsBool()
			}
		}
	}
	return false
}
