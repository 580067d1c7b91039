package casework

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// offerLine is how an offer is written in one line.
const offerLine = "write: what it contains -> repairs; price; postage; days; seller; what the seller says; chance of misfit in %; chance of a dud in %"

// ParseOffers reads offers, one a line, their fields parted by semicolons or tabs:
// what it contains; for which repairs, parted by commas; price; postage; days; seller; what the seller
// says; chance of misfit in percent; chance of a dud in percent; how well the seller's words match. What is
// missing at the end is left out. The repairs may also follow what it contains after an arrow, or be left out.
func ParseOffers(pasted string) ([]Offer, error) {
	var out []Offer
	for n, line := range strings.Split(strings.ReplaceAll(pasted, "\r", ""), "\n") {
		if strings.TrimSpace(line) == "" {
			continue
		}
		o, err := parseOffer(line)
		if err != nil {
			return nil, fail(BadInput, offerLine, "line %d: %v", n+1, err)
		}
		out = append(out, o)
	}
	return out, nil
}

func parseOffer(line string) (Offer, error) {
	f := strings.Split(strings.ReplaceAll(line, "\t", ";"), ";")
	what, repairs, arrow := strings.Cut(strings.ReplaceAll(f[0], "→", "->"), "->")
	if arrow {
		f = append([]string{what, repairs}, f[1:]...)
	} else if len(f) > 1 && bareFigure(f[1]) { // the price follows at once
		f = append([]string{f[0], ""}, f[1:]...)
	}
	for len(f) < 10 {
		f = append(f, "")
	}
	for i := range f {
		f[i] = strings.TrimSpace(f[i])
	}
	o := Offer{What: f[0], Seller: f[5], Says: f[6], Match: f[9]}
	if o.What == "" {
		return o, fmt.Errorf("it does not say what is offered")
	}
	for _, r := range strings.Split(f[1], ",") {
		if r = strings.TrimSpace(r); r != "" {
			o.Repairs = append(o.Repairs, r)
		}
	}
	for _, x := range []struct {
		text, what string
		to         *float64
		share      bool
	}{{f[2], "price", &o.Price, false}, {f[3], "postage", &o.Postage, false}, {f[4], "days", &o.Days, false}, {f[7], "chance of misfit", &o.Misfit, true}, {f[8], "chance of a dud", &o.Dud, true}} {
		if x.text == "" {
			continue
		}
		v, err := offerFigure(x.text)
		if err != nil {
			return o, fmt.Errorf("the %s cannot be read from %q", x.what, clip(x.text))
		}
		if x.share {
			v /= 100
		}
		*x.to = v
	}
	return o, nil
}

// bareFigure says that a field is an amount and can be no name.
func bareFigure(text string) bool {
	return strings.ContainsAny(text, "0123456789") && !strings.ContainsFunc(text, func(r rune) bool { return !strings.ContainsRune("0123456789-+., €$£", r) })
}

// offerFigure reads an amount as it stands in a shop: "6,40 EUR", "€ 3.50", "4 days", "5 %".
func offerFigure(text string) (float64, error) {
	text = strings.TrimFunc(text, func(r rune) bool { return !(r >= '0' && r <= '9') && !strings.ContainsRune("-+.,", r) })
	v, err := strconv.ParseFloat(strings.Replace(text, ",", ".", 1), 64)
	if err == nil && (math.IsNaN(v) || math.IsInf(v, 0)) {
		err = fmt.Errorf("no figure")
	}
	return v, err
}
