package cli

import (
	"errors"
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strconv"

	"github.com/alecthomas/kong"
)

// figures lets a number be typed with a decimal comma, and below nought, which
// the one who is asked for it answers better than the parser.
type figures struct{}

var (
	decimalComma = regexp.MustCompile(`^([+-]?\d+),(\d{1,2}|\d{4,})$`)
	eitherComma  = regexp.MustCompile(`^[+-]?\d{1,3},\d{3}$`)
)

func (figures) Decode(ctx *kong.DecodeContext, target reflect.Value) error {
	t := ctx.Scan.Pop()
	if t.IsEOL() {
		return errors.New("a figure is missing")
	}
	text := fmt.Sprint(t.Value)
	v, err := strconv.ParseFloat(decimalComma.ReplaceAllString(text, "$1.$2"), 64)
	switch {
	case eitherComma.MatchString(text):
		return fmt.Errorf("%q may have a decimal comma or one that parts thousands: write it without", text)
	case err != nil || math.IsNaN(v) || math.IsInf(v, 0):
		return fmt.Errorf("%q cannot be read as a figure: write it in digits, such as 2.50", text)
	}
	target.SetFloat(v)
	return nil
}
