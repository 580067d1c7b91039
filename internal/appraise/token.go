package appraise

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"github.com/kljensen/snowball/english"
)

// A token is one word of a text.
type token struct {
	word, stem string
	start, end int // bytes
	clause     int // counted up at , ; . : ( ) – and "but"
	sentence   int // counted up at . ; ! ? and line ends
}

const mostTokens = 400

// tokenize cuts a text into words, apostrophes dropped ("doesn't" is "doesnt").
func tokenize(text string) []token {
	var out []token
	clause, sentence := 0, 0
	for i := 0; i < len(text) && len(out) < mostTokens; {
		r, size := utf8.DecodeRuneInString(text[i:])
		if !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			if strings.ContainsRune(",;.:()–—!?\n/", r) || r == '-' && i > 0 && text[i-1] == ' ' {
				clause++
			}
			if strings.ContainsRune(".;!?\n", r) {
				sentence++
			}
			i += size
			continue
		}
		start := i
		var b strings.Builder
		for i < len(text) {
			r, size = utf8.DecodeRuneInString(text[i:])
			if r != '\'' && r != '’' && !unicode.IsLetter(r) && !unicode.IsDigit(r) {
				break
			}
			if r != '\'' && r != '’' {
				b.WriteRune(unicode.ToLower(r))
			}
			i += size
		}
		word := b.String()
		if word == "but" || word == "although" || word == "however" {
			clause++
		}
		out = append(out, token{word: word, stem: stem(word), start: start, end: i, clause: clause, sentence: sentence})
	}
	joinParticles(out)
	return out
}

// joinParticles gives a verb with its particle a stem of its own, so that "it
// switches on" and "plugged in" name no switch and no plug.
func joinParticles(tokens []token) {
	for i := 0; i+1 < len(tokens); i++ {
		verb, next := &tokens[i], tokens[i+1]
		if !particleVerbs[verb.stem] || next.clause != verb.clause || i > 0 && beforeNoun[tokens[i-1].word] {
			continue
		}
		switch next.word {
		case "on", "up":
			verb.stem = "turn-on"
		case "off", "down":
			verb.stem = "turn-off"
		case "in":
			verb.stem = verb.stem + "-in"
		}
	}
}

var (
	particleVerbs = setOf("switch turn power plug start come go")
	beforeNoun    = setOf("the a an this that its my on off main mains power faulty broken new toggle rocker of and dead")
)

// stem takes the ending off an English word (Porter2).
func stem(word string) string { return english.Stem(word, true) }

// idle words say nothing about a fault by themselves.
var idle = setOf(`a an the and or of to in on at by for with from into it its this that these those is are was were be been being has have had
	do does did will would can could should may might i we he she they you my our his her their your them me us as if so than then there here
	when while which who what where how also just only very too more most some any all both each other one two up down out off over under
	again s t re ve ll d m im ive also after before during until about because but although however`)
