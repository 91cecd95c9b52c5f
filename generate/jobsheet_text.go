package generate

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"buckwright/generate/fit"
)

// fixed writes v with so many digits after the point, and never "-0". It rounds as the
// pictures, and the number on the trim guide, do.
func fixed(digits int, v float64) string {
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Trim(s, "-0.") == "" {
		s = strings.TrimPrefix(s, "-")
	}
	return s
}

// sizes writes lengths as they are read off: "118.0 x 64.0 x 27.0".
func sizes(digits int, v ...float64) string {
	texts := make([]string, len(v))
	for i, x := range v {
		texts[i] = fixed(digits, x)
	}
	return strings.Join(texts, " × ")
}

// nbsp keeps a unit on the line of its number.
const nbsp = "\u00a0"

// mm writes one or more lengths with their unit.
func mm(digits int, v ...float64) string { return sizes(digits, v...) + nbsp + "mm" }

// percent writes a share, with a digit where it is small.
func percent(share float64) string {
	digits := 0
	if math.Abs(share) < 0.1 {
		digits = 1
	}
	return fixed(digits, share*100) + nbsp + "%"
}

// newtons writes a force, and the mass that weighs as much.
func newtons(f float64) string {
	kilos := f / fit.Weight(1000)
	if f >= 1000 {
		return fixed(1, f/1000) + nbsp + "kN (as " + fixed(0, kilos) + nbsp + "kg weigh)"
	}
	return fixed(0, f) + nbsp + "N (as " + fixed(1, kilos) + nbsp + "kg weigh)"
}

// celsius writes one temperature or a range.
func celsius(v ...float64) string {
	texts := make([]string, len(v))
	for i, x := range v {
		texts[i] = fixed(0, x)
	}
	return strings.Join(texts, " to ") + nbsp + "°C"
}

// seconds writes a time as a stopwatch is read: to a second, to five from
// half a minute on, in minutes from five minutes on.
func seconds(s float64) string {
	switch {
	case math.IsInf(s, 1):
		return "never"
	case s < 30:
		return fixed(0, s) + nbsp + "s"
	case s < 300:
		return fixed(0, math.Round(s/5)*5) + nbsp + "s"
	}
	return fixed(0, s/60) + nbsp + "min"
}

// hours writes a long time as a clock does: "3:05".
func hours(s float64) string {
	m := int(math.Round(s / 60))
	return fmt.Sprintf("%d:%02d", m/60, m%60)
}

// some is n with its noun, the plural made with an s.
func some(n int, noun string) string {
	if n != 1 {
		noun += "s"
	}
	return strconv.Itoa(n) + " " + noun
}

// toFill is where a number of the maker's own goes.
const toFill = "________"
