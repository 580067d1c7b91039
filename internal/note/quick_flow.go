package note

import "strings"

// flow reads "{…}" or "[…]", over several lines if need be; these must stand
// further in than indent.
func (q *quick) flow(indent, depth int) *node {
	n := q.here()
	if depth >= maxDepth {
		return q.giveUp()
	}
	end := byte(']')
	n.kind = sequence
	if q.peek() == '{' {
		end, n.kind = '}', mapping
	}
	q.at++
	base := len(q.stack)
	for {
		if !q.flowSpace(indent) {
			return q.giveUp()
		}
		if q.peek() == end {
			q.at++
			break
		}
		if !q.flowEntry(n, indent, depth+1) || !q.flowSpace(indent) {
			return q.giveUp()
		}
		switch q.peek() {
		case ',':
			q.at++
		case end:
		default:
			return q.giveUp()
		}
	}
	if n.kind == mapping {
		q.finish(n, base)
		return n
	}
	n.vals = append(make([]*node, 0, len(q.stack)-base), q.stack[base:]...)
	q.stack = q.stack[:base]
	return n
}

// flowEntry reads "key: value" of a mapping or a value of a list.
func (q *quick) flowEntry(of *node, indent, depth int) bool {
	if depth >= maxDepth {
		return false
	}
	if of.kind == mapping {
		k := q.scalar(true)
		if q.gaveUp || q.peek() != ':' || q.after() != ' ' {
			return false
		}
		q.stack = append(q.stack, k)
		q.at++
		if !q.flowSpace(indent) {
			return false
		}
	}
	var v *node
	if c := q.peek(); c == '{' || c == '[' {
		v = q.flow(indent, depth)
	} else {
		v = q.scalar(true)
	}
	if q.gaveUp || of.kind == sequence && q.peek() == ':' {
		return false // a pair in a list is a mapping of its own
	}
	q.stack = append(q.stack, v)
	return true
}

// flowSpace passes over blanks, line ends and comments within a flow
// collection. It returns false at the end of the text, and where a line does
// not stand far enough in.
func (q *quick) flowSpace(indent int) bool {
	line := q.line
	blank := false
	for q.at < len(q.text) {
		switch q.text[q.at] {
		case ' ':
			q.at++
		case '\n':
			q.newLine()
		case '#':
			if !blank && q.at > q.start && q.text[q.at-1] != ' ' {
				return false
			}
			q.skipComment()
			continue
		default:
			return q.line == line || q.indent() > indent
		}
		blank = true
	}
	return false
}

// scalar reads a scalar on one line, plain or in quotes. Of a plain one the
// blanks behind it are passed over too.
func (q *quick) scalar(inFlow bool) *node {
	switch c := q.peek(); c {
	case '"', '\'':
		return q.quoted(c)
	case '-', '?', ':':
		if a := q.after(); a == ' ' || a == '\n' || inFlow && strings.IndexByte(",[]{}", a) >= 0 {
			return q.giveUp()
		}
	case '\n', ',', '[', ']', '{', '}', '#', '&', '*', '!', '|', '>', '%', '@', '`':
		return q.giveUp()
	}
	n := q.here()
	n.plain = true
	from, end := q.at, q.plainEnd(inFlow)
	n.text = strings.TrimRight(q.text[from:end], " ")
	if n.text == "" || strings.HasPrefix(n.text, "---") || strings.HasPrefix(n.text, "...") {
		return q.giveUp()
	}
	q.at = end
	if inFlow && q.peek() == '\n' {
		return q.giveUp() // it may go on in the next line
	}
	if leadingZero(n.text) {
		q.warnZero(n)
	}
	return n
}

// plainEnd is where a plain scalar ends that begins at the present place, the
// blanks behind it included: at ": ", " #", the line's end and, in a flow
// collection, at its signs.
func (q *quick) plainEnd(inFlow bool) int {
	for i := q.at; i < len(q.text); i++ {
		switch c := q.text[i]; c {
		case '\n':
			return i
		case ':':
			next := byte('\n')
			if i+1 < len(q.text) {
				next = q.text[i+1]
			}
			if next == ' ' || next == '\n' || inFlow && strings.IndexByte(",[]{}", next) >= 0 {
				return i
			}
		case '#':
			if i > q.at && q.text[i-1] == ' ' {
				return i
			}
		case ',', '[', ']', '{', '}':
			if inFlow {
				return i
			}
		}
	}
	return len(q.text)
}

// quoted reads a scalar in quotes that ends on its line and has no escapes but ”.
func (q *quick) quoted(quote byte) *node {
	n := q.here()
	q.at++
	from := q.at
	twice := false
	for ; q.at < len(q.text); q.at++ {
		switch c := q.text[q.at]; {
		case c == '\n' || c == '\\' && quote == '"':
			return q.giveUp()
		case c == quote && quote == '\'' && q.after() == '\'':
			twice = true
			q.at++
		case c == quote:
			n.text = q.text[from:q.at]
			if twice {
				n.text = strings.ReplaceAll(n.text, "''", "'")
			}
			q.at++
			for q.peek() == ' ' && q.at < len(q.text) {
				q.at++
			}
			return n
		}
	}
	return q.giveUp()
}
