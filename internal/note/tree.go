package note

import (
	"errors"
	"fmt"
	"strings"

	"go.yaml.in/yaml/v4"
)

// kind tells the three sorts of node.
type nodeKind uint8

const (
	scalar nodeKind = iota
	mapping
	sequence
)

// A node is a piece of a note that knows its file. It is what is left of a
// yaml.Node once aliases, tags, comments and duplicate keys are out of the
// way; a note's typed form keeps nodes for whatever may still turn out wrong,
// so that a message can name the place even after blocks and changes from
// several files have been merged.
type node struct {
	file   *string
	line   int32
	column int32
	kind   nodeKind
	plain  bool // scalar without quotes
	text   string
	keys   []*node // mapping
	vals   []*node // mapping and sequence
}

func (n *node) pos() Pos {
	if n == nil || n.file == nil {
		return Pos{}
	}
	return Pos{File: *n.file, Line: int(n.line), Column: int(n.column)}
}

// null reports whether nothing was written for the value.
func (n *node) null() bool {
	return n.kind == scalar && n.plain && (n.text == "" || n.text == "~" || n.text == "null")
}

// what names the sort of node in a message.
func (n *node) what() string {
	switch {
	case n.kind == mapping:
		return "a mapping"
	case n.kind == sequence:
		return "a list"
	case n.null():
		return "nothing"
	}
	return fmt.Sprintf("%q", clip(n.text))
}

// find returns the value of a key of a mapping, or nil.
func (n *node) find(key string) *node {
	if n == nil || n.kind != mapping {
		return nil
	}
	for i, k := range n.keys {
		if k.text == key {
			return n.vals[i]
		}
	}
	return nil
}

func clip(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	if r := []rune(s); len(r) > 60 {
		return string(r[:60]) + "…"
	}
	return s
}

// Limits of a file; a note of ten thousand lines is not a note.
const (
	maxFile  = 1 << 20 // bytes
	maxDepth = 24      // mappings and lists inside one another
)

// parseTree reads one YAML document. It returns nil if there is no tree at all.
func parseTree(file string, data []byte, s *sink) (tree *node) {
	at := &node{file: &file, line: 1, column: 1}
	if len(data) > maxFile {
		s.fail(at, "split it", "the file is larger than %d kB", maxFile>>10)
		return nil
	}
	t := &treeMaker{file: &file, sink: s}
	if tree, ok := t.quickTree(data); ok {
		return tree
	}
	defer func() { // the YAML library is not ours: whatever it does, a file is only a file
		if r := recover(); r != nil {
			s.fail(at, "", "the file cannot be read as YAML: %v", r)
			tree = nil
		}
	}()
	var doc yaml.Node
	if err := yaml.Load(data, &doc, yaml.WithV4Defaults()); err != nil {
		yamlProblem(at, err, s)
		return nil
	}
	if doc.Kind != yaml.DocumentNode || len(doc.Content) != 1 {
		s.fail(at, "expected kinds:, block: or device:", "the file holds no note")
		return nil
	}
	return t.convert(doc.Content[0], 0)
}

// yamlProblem turns an error of the YAML library into a problem with its place.
func yamlProblem(at *node, err error, s *sink) {
	var le *yaml.LoadError
	if !errors.As(err, &le) {
		var several *yaml.LoadErrors
		if errors.As(err, &several) && len(several.Errors) > 0 {
			le = several.Errors[0]
		}
	}
	if le == nil {
		s.fail(at, "", "not YAML: %v", err)
		return
	}
	here := *at
	if le.Mark.Line > 0 {
		here.line, here.column = int32(le.Mark.Line), int32(max(le.Mark.Column, 1))
	}
	text, hint := le.Message, ""
	switch {
	case strings.Contains(text, "mapping values are not allowed"):
		hint = `put quotes around a text that contains ": "`
	case strings.Contains(text, "cannot start any token"):
		hint = "indent with blanks, not tabs, and quote a text that starts with a sign such as % or @"
	case strings.Contains(text, "multiple"):
		text, hint = "more than one document in the file", "one note per file, no --- lines"
	case strings.Contains(text, "no documents"):
		text, hint = "the file holds no note", "expected kinds:, block: or device:"
	}
	if le.ContextMsg != "" && le.ContextMark.Line > 0 {
		text = fmt.Sprintf("%s (%s from line %d)", text, le.ContextMsg, le.ContextMark.Line)
	}
	if le.Mark.Line > 0 {
		text = "not YAML: " + text
	}
	s.fail(&here, hint, "%s", text)
}

type treeMaker struct {
	file  *string
	sink  *sink
	slab  []node                     // nodes are made by the hundred
	large map[*node]map[string]*node // values by key, of mappings of manyKeys and more
}

// manyKeys is from where on a mapping's keys are not looked through one by one.
const manyKeys = 64

// grab returns a node that nobody has used.
func (t *treeMaker) grab() *node {
	if len(t.slab) == 0 {
		t.slab = make([]node, 100)
	}
	n := &t.slab[0]
	t.slab = t.slab[1:]
	return n
}

func (t *treeMaker) make(y *yaml.Node) *node {
	n := t.grab()
	n.file, n.line, n.column = t.file, int32(y.Line), int32(y.Column)
	return n
}

func (t *treeMaker) convert(y *yaml.Node, depth int) *node {
	n := t.make(y)
	switch {
	case depth > maxDepth:
		t.sink.fail(n, "", "nested more than %d deep", maxDepth)
		return n
	case y.Anchor != "" || y.Kind == yaml.AliasNode:
		t.sink.fail(n, "write it out, or make it a block", "anchors and aliases are not part of the language")
		if y.Kind == yaml.AliasNode {
			n.plain = true
			return n
		}
	}
	switch y.Kind {
	case yaml.ScalarNode:
		n.text = y.Value
		n.plain = y.Style&(yaml.SingleQuotedStyle|yaml.DoubleQuotedStyle|yaml.LiteralStyle|yaml.FoldedStyle) == 0
		if n.plain && leadingZero(n.text) {
			t.warnZero(n)
		}
	case yaml.SequenceNode:
		n.kind = sequence
		n.vals = make([]*node, 0, len(y.Content))
		for _, c := range y.Content {
			n.vals = append(n.vals, t.convert(c, depth+1))
		}
	case yaml.MappingNode:
		n.kind = mapping
		t.pairs(n, y, depth)
	}
	return n
}

func (t *treeMaker) pairs(n *node, y *yaml.Node, depth int) {
	n.keys = make([]*node, 0, len(y.Content)/2)
	n.vals = make([]*node, 0, len(y.Content)/2)
	for i := 0; i+1 < len(y.Content); i += 2 {
		k := t.convert(y.Content[i], depth+1)
		v := t.convert(y.Content[i+1], depth+1)
		t.pair(n, k, v)
	}
}

// pair puts a key and its value into a mapping.
func (t *treeMaker) pair(n, k, v *node) {
	if k.kind != scalar {
		t.sink.fail(k, "", "%s cannot be a key", k.what())
		return
	}
	if prev := t.known(n, k.text); prev != nil {
		t.sink.fail(k, fmt.Sprintf("it is there already, in line %d", prev.line), "%q stands here twice", clip(k.text))
		return
	}
	n.keys = append(n.keys, k)
	n.vals = append(n.vals, v)
	if x := t.large[n]; x != nil {
		x[k.text] = v
	}
}

// known is find for a mapping that is being made: a file may have more keys than any note.
func (t *treeMaker) known(n *node, key string) *node {
	if len(n.keys) < manyKeys {
		return n.find(key)
	}
	x := t.large[n]
	if x == nil {
		x = make(map[string]*node, 2*len(n.keys))
		for i, k := range n.keys {
			x[k.text] = n.vals[i]
		}
		if t.large == nil {
			t.large = map[*node]map[string]*node{}
		}
		t.large[n] = x
	}
	return x[key]
}

func (t *treeMaker) warnZero(n *node) {
	t.sink.warn(n, fmt.Sprintf("write %q in quotes", n.text), "%s without quotes is a number to other programs and may lose its zero", n.text)
}

// leadingZero reports whether s is digits only with a zero in front of another.
func leadingZero(s string) bool {
	if len(s) < 2 || s[0] != '0' {
		return false
	}
	for _, c := range s {
		if c < '0' || c > '9' {
			return false
		}
	}
	return true
}
