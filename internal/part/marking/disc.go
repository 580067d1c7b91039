package marking

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"fettler/internal/part"
	"fettler/internal/part/unit"
)

var (
	srcVaristor = part.Source{Text: "trade code of metal-oxide varistors: disc in mm, volts at 1 mA in three digits", Mark: part.Memory}
	reDiscVolt  = regexp.MustCompile(`^(\d{2})D(\d{3})([KLM])?$`)
	reVoltDisc  = regexp.MustCompile(`^(\d{3})([KLM])?D?(05|07|10|14|20|25)$`)
	reDiscAC    = regexp.MustCompile(`^(S?)(\d{2})([KLM])(\d{2,4})E?\d?$`)
	reHertz     = regexp.MustCompile(`^(\d{1,5}(?:\.(\d{1,6}))?)(MHz|kHz|KHz|Hz|M|k|K)?$`)
)

// acRatings are the AC ratings that go with the voltage at 1 mA (from memory).
var acRatings = map[float64]float64{
	180: 115, 200: 130, 220: 140, 240: 150, 270: 175, 330: 210, 360: 230, 390: 250, 430: 275, 470: 300,
	510: 320, 560: 350, 620: 385, 680: 420, 750: 460, 820: 510, 910: 550, 1000: 625, 1100: 680,
}

var discSizes = map[string]bool{"05": true, "07": true, "10": true, "14": true, "20": true, "25": true, "32": true, "40": true}

// varistors reads disc size and voltage, in any of three orders.
func varistors(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.amps > 0 {
		return nil
	}
	t := strings.ToUpper(tok)
	if m := reDiscVolt.FindStringSubmatch(t); m != nil {
		return varistor(m[1], m[2], m[3], 0.9)
	}
	if m := reVoltDisc.FindStringSubmatch(t); m != nil && strings.Contains(t, "D") {
		return varistor(m[3], m[1], m[2], 0.7)
	}
	if m := reDiscAC.FindStringSubmatch(t); m != nil && discSizes[m[2]] {
		ac, _ := strconv.ParseFloat(m[4], 64)
		if ac < 11 || ac > 1100 {
			return nil
		}
		w := 0.1
		if m[1] != "" {
			w = 0.8
		}
		r := newReading(part.Varistor, "disc size and AC voltage", w, "disc in mm, tolerance letter, highest continuous AC voltage", srcVaristor)
		r.DiscMM, _ = strconv.ParseFloat(m[2], 64)
		r.VoltsAC, r.Value, r.Unit = ac, ac, "V"
		t, _ := ToleranceLetter(m[3][0], part.Varistor, 0)
		r.tolerance(t)
		r.Text = fmt.Sprintf("varistor, %g mm disc, for %s AC", r.DiscMM, unit.Format(ac, "V"))
		r.caution(varistorCaution)
		return []Reading{r}
	}
	return nil
}

const varistorCaution = "a varistor sits behind a fuse: replace by the same voltage and at least the same disc, and treat a burst one as a sign of a surge, so test what stands behind it"

func varistor(disc, code, letter string, w float64) []Reading {
	v, err := DecodeDigits(code, 0)
	if err != nil || v < 5 || v > 2000 {
		return nil
	}
	r := newReading(part.Varistor, "disc size and voltage at 1 mA", w, "disc in mm, then three digits in volts", srcVaristor)
	r.DiscMM, _ = strconv.ParseFloat(disc, 64)
	r.Value, r.Unit, r.VoltsDC = v, "V", v
	if letter != "" {
		t, _ := ToleranceLetter(letter[0], part.Varistor, 0)
		r.tolerance(t)
	}
	ac, listed := acRatings[v]
	if !listed {
		ac = math.Round(v / 1.57)
		r.times(0.4, "not among the usual varistor voltages")
	}
	r.VoltsAC = ac
	r.Text = fmt.Sprintf("varistor, %g mm disc, %s at 1 mA, for about %s AC", r.DiscMM, unit.Format(v, "V"), unit.Format(ac, "V"))
	if !discSizes[disc] {
		r.times(0.1, disc+" mm is not a usual disc")
	}
	r.caution(varistorCaution)
	return []Reading{r}
}

// known frequencies in Hz and what they are for (from memory).
var known = map[float64]string{
	32768: "clocks: 2¹⁵ Hz", 1.8432e6: "serial ports", 2.4576e6: "serial ports", 3.579545e6: "NTSC colour carrier", 3.6864e6: "serial ports",
	4e6: "microcontrollers", 4.194304e6: "clocks: 2²² Hz", 4.433619e6: "PAL colour carrier", 6e6: "microcontrollers, remote controls",
	7.3728e6: "serial ports", 8e6: "microcontrollers", 10e6: "microcontrollers", 10.24e6: "tuners", 11.0592e6: "serial ports", 11.2896e6: "audio: 256 × 44.1 kHz",
	12e6: "USB, microcontrollers", 12.288e6: "audio: 256 × 48 kHz", 13.56e6: "contactless cards", 14.31818e6: "computers: 4 × NTSC", 14.7456e6: "serial ports",
	16e6: "microcontrollers", 16.9344e6: "audio: 384 × 44.1 kHz", 18.432e6: "serial ports, audio", 20e6: "microcontrollers", 22.1184e6: "serial ports", 24e6: "USB",
	24.576e6: "audio: 512 × 48 kHz", 25e6: "Ethernet", 26e6: "radio", 27e6: "video", 40e6: "radio", 48e6: "USB", 50e6: "Ethernet",
}

var srcCrystal = part.Source{Text: "frequency printed on the can", Mark: part.Practice}

// crystals reads a frequency; bare figures on a can are megahertz.
func crystals(tok string, s *scan) []Reading {
	if tok == "" || s.class != "" || s.volts > 0 || s.amps > 0 || s.dielectric != "" || s.film || s.tempMaxC > 0 {
		return nil
	}
	m := reHertz.FindStringSubmatch(tok)
	if m == nil {
		return nil
	}
	var out []Reading
	add := func(exp int, w float64, why string) {
		f := power10(m[1], exp)
		if f < 10e3 || f > 250e6 {
			return
		}
		r := newReading(part.Crystal, "frequency", w, why, srcCrystal)
		r.Value, r.Unit = f, "Hz"
		r.Text = unit.FormatDigits(f, "Hz", 9)
		if use, ok := knownUse(f); ok {
			r.times(1, use)
		} else {
			r.times(0.4, "not among the well-known frequencies")
		}
		out = append(out, r)
	}
	switch m[3] {
	case "MHz":
		add(6, 0.95, "the unit is printed")
	case "kHz", "KHz":
		add(3, 0.95, "the unit is printed")
	case "Hz":
		add(0, 0.95, "the unit is printed")
	case "M":
		add(6, 0.1+0.1*float64(len(m[2])), "M for megahertz")
	case "k", "K":
		add(3, 0.03+0.1*float64(len(m[2])), "k for kilohertz")
	default:
		w := [...]float64{0.02, 0.03, 0.1, 0.5, 0.6, 0.6, 0.6}[len(m[2])]
		add(6, w, "a bare figure with decimals on a metal can is megahertz")
		if _, clock := knownUse(power10(m[1], 3)); clock {
			w *= 6
		}
		add(3, w*0.2, "on a small cylinder it is kilohertz")
	}
	return out
}

func knownUse(f float64) (string, bool) {
	for k, use := range known {
		if math.Abs(k-f) <= 2e-6*k {
			return use, true
		}
	}
	return "", false
}
