package note

import "strings"

// A shape is a piece of JSON Schema.
type shape map[string]any

// A key is one key of a mapping in a note: how its value is read, and what the
// editor's schema says about it. The decoder and the schema are both driven by
// tables of keys, so that they cannot come apart.
type key[T any] struct {
	name  string
	doc   string
	must  bool
	shape shape
	read  func(s *sink, n *node, v *T)
}

// required marks a key that must be there.
func required[T any](k key[T]) key[T] {
	k.must = true
	return k
}

// readKeys reads a mapping by its table; what names the thing in messages.
func readKeys[T any](s *sink, n *node, what string, keys []key[T], v *T) {
	if n.null() {
		n = &node{file: n.file, line: n.line, column: n.column, kind: mapping}
	}
	if n.kind != mapping {
		s.fail(n, "expected keys such as "+keys[0].name+":", "%s is not %s", n.what(), what)
		return
	}
	for i, k := range n.keys {
		if def := lookupKey(keys, k.text); def != nil {
			def.read(s, n.vals[i], v)
			continue
		}
		names := make([]string, len(keys))
		for j := range keys {
			names[j] = keys[j].name
		}
		hint := hintNames(k.text, names)
		if n.vals[i].null() && strings.Contains(k.text, " ") {
			hint = "inside { } a text that contains a comma needs quotes"
		}
		s.fail(k, hint, "unknown key %q in %s", clip(k.text), what)
	}
	for i := range keys {
		if keys[i].must && n.find(keys[i].name) == nil {
			s.fail(n, keys[i].doc, "%s has no %q", what, keys[i].name)
		}
	}
}

func lookupKey[T any](keys []key[T], name string) *key[T] {
	for i := range keys {
		if keys[i].name == name {
			return &keys[i]
		}
	}
	return nil
}

// objectShape is the schema of a mapping read by the table.
func objectShape[T any](keys []key[T]) shape {
	props, must := shape{}, []string{}
	for _, k := range keys {
		sh := shape{}
		for name, v := range k.shape {
			sh[name] = v
		}
		if k.doc != "" {
			sh["description"] = k.doc
		}
		props[k.name] = sh
		if k.must {
			must = append(must, k.name)
		}
	}
	sh := shape{"type": "object", "additionalProperties": false, "properties": props}
	if len(must) > 0 {
		sh["required"] = must
	}
	return sh
}

// orNull allows the value to be left empty.
func orNull(sh shape) shape { return shape{"anyOf": []any{sh, shape{"type": "null"}}} }

func ref(name string) shape { return shape{"$ref": "#/$defs/" + name} }

func listOf(sh shape) shape { return shape{"type": "array", "items": sh} }

// oneOrList is a value that may be written without brackets if there is one.
func oneOrList(sh shape) shape { return shape{"anyOf": []any{sh, listOf(sh)}} }

func mapOf(sh shape) shape {
	return shape{"type": "object", "additionalProperties": sh}
}

func namedMap(sh shape) shape {
	return shape{"type": "object", "propertyNames": ref("name"), "additionalProperties": sh}
}

// validName reports whether s is lower case letters, digits and single hyphens.
func validName(s string) bool {
	if s == "" || s[0] == '-' || s[len(s)-1] == '-' || strings.Contains(s, "--") {
		return false
	}
	for _, c := range s {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}

// readName checks the name of a thing.
func readName(s *sink, n *node) bool {
	if n.kind == scalar && validName(n.text) {
		return true
	}
	hint := "names are lower case letters, digits and hyphens"
	if n.kind == scalar {
		if fixed := strings.Trim(strings.Map(nameRune, strings.ToLower(n.text)), "-"); validName(fixed) {
			hint += ", such as " + fixed
		}
	}
	s.fail(n, hint, "%s is not a name", n.what())
	return false
}

func nameRune(r rune) rune {
	if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
		return r
	}
	return '-'
}
