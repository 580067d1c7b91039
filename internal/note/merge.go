package note

import "strings"

// merge lays change over base: mappings are merged key by key, anything else
// replaces what was there. Neither argument is altered; the result shares what
// it can, and every node keeps the place where it was written.
func merge(base, change *node) *node {
	if base == nil || base.kind != mapping || change.kind != mapping {
		return change
	}
	out := *base
	out.keys = append([]*node(nil), base.keys...)
	out.vals = append([]*node(nil), base.vals...)
	for i, k := range change.keys {
		if j := out.index(k.text); j >= 0 {
			out.vals[j] = merge(out.vals[j], change.vals[i])
			continue
		}
		out.keys = append(out.keys, k)
		out.vals = append(out.vals, change.vals[i])
	}
	return &out
}

func (n *node) index(key string) int {
	for i, k := range n.keys {
		if k.text == key {
			return i
		}
	}
	return -1
}

// remove takes the thing at a dotted path ("checks.speaker-swap") out of a
// tree, copying what it changes. It reports how far the path could be
// followed: ok is true if the thing was there; otherwise missing is the step
// that was not and names are the keys it could have been.
func remove(tree *node, path string) (out *node, ok bool, missing string, names []string) {
	step, rest, deeper := strings.Cut(path, ".")
	i := -1
	if tree.kind == mapping {
		i = tree.index(step)
	}
	if i < 0 {
		for _, k := range tree.keys {
			names = append(names, k.text)
		}
		return tree, false, step, names
	}
	c := *tree
	c.keys = append([]*node(nil), tree.keys...)
	c.vals = append([]*node(nil), tree.vals...)
	if deeper {
		c.vals[i], ok, missing, names = remove(tree.vals[i], rest)
		return &c, ok, missing, names
	}
	c.keys = append(c.keys[:i], c.keys[i+1:]...)
	c.vals = append(c.vals[:i], c.vals[i+1:]...)
	return &c, true, "", nil
}
