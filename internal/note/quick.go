package note

import (
	"strings"
	"unicode/utf8"
)

// quickTree reads the plain part of YAML in which nearly all notes are written:
// block mappings and lists, flow mappings and lists, scalars on one line,
// comments. It makes the tree that the YAML library would, place by place, at a
// fifth of its cost. Whatever else there is, and whatever is wrong, ends it with
// ok == false; then the library reads the file and says so.
func (t *treeMaker) quickTree(data []byte) (tree *node, ok bool) {
	if !plainBytes(data) {
		return nil, false
	}
	q := &quick{treeMaker: t, text: string(data), line: 1}
	problems := len(t.sink.list)
	tree = q.document()
	if q.gaveUp {
		t.sink.list = t.sink.list[:problems]
		return nil, false
	}
	return tree, true
}

// plainBytes holds if there is nothing that is, or may be, special to YAML as a
// character: tabs, other controls, marks of byte order, foreign line ends.
func plainBytes(data []byte) bool {
	for i, c := range data {
		switch {
		case c < ' ' && c != '\n' || c == 0x7f:
			return false
		case c == 0xc2 && i+1 < len(data) && data[i+1] < 0xa0, c == 0xef, c == 0xf4:
			return false
		case c == 0xe2 && i+2 < len(data) && data[i+1] == 0x80 && (data[i+2] == 0xa8 || data[i+2] == 0xa9):
			return false
		}
	}
	return utf8.Valid(data)
}

// quick is the reader's place in a text.
type quick struct {
	*treeMaker
	text   string
	at     int // next byte
	line   int
	start  int // where the line begins
	gaveUp bool
	stack  []*node // of mappings and lists being read, keys and values in turn
}

func (q *quick) giveUp() *node {
	q.gaveUp = true
	return nil
}

// here makes a node for what begins at the present place.
func (q *quick) here() *node {
	n := q.grab()
	n.file, n.line, n.column = q.file, int32(q.line), int32(utf8.RuneCountInString(q.text[q.start:q.at])+1)
	return n
}

func (q *quick) peek() byte {
	if q.at < len(q.text) {
		return q.text[q.at]
	}
	return '\n'
}

// after is the byte behind the next one.
func (q *quick) after() byte {
	if q.at+1 < len(q.text) {
		return q.text[q.at+1]
	}
	return '\n'
}

// toLine goes on to the next line that holds something, and stands at its first
// byte that is no blank. It returns false at the end of the text.
func (q *quick) toLine() bool {
	for q.at < len(q.text) {
		switch q.text[q.at] {
		case ' ':
			q.at++
		case '\n':
			q.newLine()
		case '#':
			q.skipComment()
		default:
			return true
		}
	}
	return false
}

func (q *quick) newLine() {
	q.at++
	q.line++
	q.start = q.at
}

func (q *quick) skipComment() {
	if i := strings.IndexByte(q.text[q.at:], '\n'); i >= 0 {
		q.at += i
	} else {
		q.at = len(q.text)
	}
}

// indent is how far the present place stands from the line's beginning, with
// nothing before it but blanks and the dashes of lists.
func (q *quick) indent() int { return q.at - q.start }

func (q *quick) document() *node {
	if !q.toLine() || q.indent() != 0 {
		return q.giveUp()
	}
	n := q.blockMapping(0, 0, q.key())
	if !q.gaveUp && q.toLine() {
		return q.giveUp()
	}
	return n
}

// endOfLine holds if nothing but blanks and a comment stands before the line's end.
func (q *quick) endOfLine() bool {
	blank := q.at == 0 || q.text[q.at-1] == ' '
	for q.at < len(q.text) && q.text[q.at] == ' ' {
		q.at++
		blank = true
	}
	switch {
	case q.peek() == '\n':
		return true
	case q.peek() == '#' && blank:
		q.skipComment()
		return true
	}
	return false
}

// blockMapping reads the lines "key: value" that stand at indent. The first key
// has been read.
func (q *quick) blockMapping(indent, depth int, k *node) *node {
	if q.gaveUp {
		return nil
	}
	n := q.grab()
	n.file, n.line, n.column, n.kind = q.file, k.line, k.column, mapping
	base := len(q.stack)
	for {
		v := q.blockValue(indent, depth+1)
		if q.gaveUp {
			return nil
		}
		q.stack = append(q.stack, k, v)
		if !q.toLine() || q.indent() < indent {
			break
		}
		if q.indent() > indent || q.listItem() {
			return q.giveUp()
		}
		if k = q.key(); q.gaveUp {
			return nil
		}
	}
	q.finish(n, base)
	return n
}

// listItem holds at the dash of a list's item.
func (q *quick) listItem() bool { return q.peek() == '-' && (q.after() == ' ' || q.after() == '\n') }

// key reads a key and the colon behind it.
func (q *quick) key() *node {
	k := q.scalar(false)
	if q.gaveUp || !q.colon() {
		return q.giveUp()
	}
	return k
}

// longestKey is well under what YAML allows between a line's beginning and the colon.
const longestKey = 500

// colon passes over the colon behind a key.
func (q *quick) colon() bool {
	if q.peek() != ':' || q.after() != ' ' && q.after() != '\n' || q.at-q.start > longestKey {
		return false
	}
	q.at++
	return true
}

// blockValue reads what stands behind the colon of a key at indent.
func (q *quick) blockValue(indent, depth int) *node {
	if depth >= maxDepth {
		return q.giveUp()
	}
	if !q.endOfLine() {
		return q.inLine(indent, depth)
	}
	if !q.toLine() {
		return q.giveUp()
	}
	at := q.indent()
	switch {
	case q.listItem() && at >= indent:
		return q.blockList(at, depth)
	case at <= indent:
		return q.giveUp()
	case q.peek() == '{' || q.peek() == '[':
		return q.inLine(indent, depth)
	}
	return q.blockMapping(at, depth, q.key())
}

// inLine reads a flow collection or a scalar that ends the line.
func (q *quick) inLine(indent, depth int) *node {
	var n *node
	if q.peek() == '{' || q.peek() == '[' {
		n = q.flow(indent, depth)
	} else {
		n = q.scalar(false)
	}
	if q.gaveUp || !q.endOfLine() {
		return q.giveUp()
	}
	return n
}

// blockList reads the items "- value" that stand at indent.
func (q *quick) blockList(indent, depth int) *node {
	n := q.here()
	n.kind = sequence
	base := len(q.stack)
	for {
		q.at++ // the dash
		for q.peek() == ' ' {
			q.at++
		}
		v := q.item(indent, depth+1)
		if q.gaveUp {
			return nil
		}
		q.stack = append(q.stack, v)
		if !q.toLine() || q.indent() < indent {
			break
		}
		if q.indent() > indent {
			return q.giveUp()
		}
		if !q.listItem() {
			break // the next key of the mapping that the list belongs to
		}
	}
	n.vals = append(n.vals, q.stack[base:]...)
	q.stack = q.stack[:base]
	return n
}

// item reads a list's item: a flow collection, a scalar, or a mapping whose
// first key stands right behind the dash.
func (q *quick) item(indent, depth int) *node {
	if depth >= maxDepth || q.peek() == '\n' || q.peek() == '#' || q.listItem() {
		return q.giveUp()
	}
	if q.peek() == '{' || q.peek() == '[' {
		return q.inLine(indent, depth)
	}
	at := q.indent()
	n := q.scalar(false)
	switch {
	case q.gaveUp:
		return nil
	case q.colon():
		return q.blockMapping(at, depth, n)
	case !q.endOfLine():
		return q.giveUp()
	}
	return n
}

// finish gives a mapping the keys and values above base of the stack.
func (q *quick) finish(n *node, base int) {
	pairs := q.stack[base:]
	both := make([]*node, len(pairs))
	n.keys, n.vals = both[:0:len(pairs)/2], both[len(pairs)/2:len(pairs)/2]
	for i := 0; i < len(pairs); i += 2 {
		q.pair(n, pairs[i], pairs[i+1])
	}
	q.stack = q.stack[:base]
}
