package note

import (
	"bytes"
	"encoding/json"

	"fettler/internal/quantity"
)

// Schema returns the JSON Schema (draft 2020-12) of a note, for editors. It is
// made from the tables that the reader goes by. What it accepts is a little
// more than what the reader does: names that must exist, units and sums are
// beyond it.
func Schema() []byte {
	root := shape{
		"$schema":     "https://json-schema.org/draft/2020-12/schema",
		"title":       "Fettler bench note",
		"description": "A table of part kinds, a block or a device; docs/notes.md explains the language.",
		"oneOf":       []any{ref("kinds"), ref("block"), ref("device")},
		"$defs":       schemaDefs(),
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	if err := enc.Encode(root); err != nil {
		return nil // maps, strings and numbers: cannot happen
	}
	return b.Bytes()
}

func schemaDefs() shape {
	defs := shape{
		"kinds": objectShape(kindsKeys), "block": objectShape(blockKeys), "device": objectShape(deviceKeys),
		"condition": objectShape(condKeys), "part": objectShape(partKeys), "mode": objectShape(modeKeys),
		"finding": objectShape(findKeys), "check": objectShape(checkKeys), "repair": objectShape(repairKeys),
		"access": objectShape(accessKeys), "use": objectShape(useKeys), "trial": objectShape(trialKeys), "kind": objectShape(kindKeys),
		"change": changeShape(),
	}
	for name, sh := range valueShapes() {
		defs[name] = sh
	}
	return defs
}

// changeShape has the sections of a block, in each of which only what differs is written.
func changeShape() shape {
	props := shape{}
	for _, k := range blockKeys {
		if k.name != "block" {
			props[k.name] = shape{}
		}
	}
	return shape{"type": "object", "additionalProperties": false, "properties": props}
}

func valueShapes() shape {
	var hazards, codes string
	for i, k := range hazardKinds {
		if i > 0 {
			hazards += "|"
		}
		hazards += k.Name
	}
	for i, c := range quantity.Currencies() {
		if i > 0 {
			codes += "|"
		}
		codes += c
	}
	return shape{
		"name":     shape{"type": "string", "pattern": "^[a-z0-9]+(-[a-z0-9]+)*$", "description": "lower case letters, digits and hyphens"},
		"text":     shape{"type": []string{"string", "number", "boolean"}},
		"flag":     shape{"enum": []any{true, false, "yes", "no"}},
		"class":    shape{"enum": classNames()},
		"category": shape{"enum": categories},
		"hazard":   shape{"type": "string", "pattern": "^(" + hazards + ")($|[ :])"},
		"quantity": shape{"type": "string", "pattern": "^[-+−]?[0-9.]", "description": "a number with its unit, such as 4.7 kΩ"},
		"money":    shape{"type": "string", "pattern": "^[0-9.]+ ?(" + codes + ")$"},
		"range": shape{"type": "string", "pattern": "^((over|under) )?[-+−]?[0-9.]",
			"description": "8 V .. 28 V (90 % of readings), over 1 MΩ or under 2 V"},
		"chance": shape{"description": "a word, a number from 0 to 1 or a percentage", "anyOf": []any{
			shape{"enum": words()}, shape{"type": "number", "minimum": 0, "maximum": 1},
			shape{"type": "string", "pattern": "^[0-9.]+ ?%$"}}},
	}
}
