package check

import (
	"math"
	"strconv"
	"strings"
)

// Unit is how a rule's number is written.
type Unit string

const (
	None    Unit = ""
	MM      Unit = "mm"
	MM2     Unit = "mm²"
	Degree  Unit = "°"
	Share   Unit = "%" // kept as 0 to 1
	Newton  Unit = "N"
	KPa     Unit = "kPa"
	Celsius Unit = "°C"
	Times   Unit = "times"
	Holes   Unit = "holes"
	Shared  Unit = "in one pocket"
	Kilo    Unit = "kg"
	Shock   Unit = "G"
	Second  Unit = "s"
	MPa     Unit = "MPa"
)

// digits after the point of v that a maker can use.
func (u Unit) digits(v float64) int {
	switch u {
	case Newton:
		return pick(math.Abs(v) < 10, 1, 0)
	case MM, Times, Kilo, MPa:
		return 2
	case Degree, Share, Second:
		return 1
	}
	return 0
}

// text writes v with its unit.
func (u Unit) text(v float64) string { return u.with(v, u.digits(v)) }

func (u Unit) with(v float64, digits int) string {
	if math.IsInf(v, 0) {
		return "no end of " + string(u)
	}
	if u == Share {
		v *= 100
	}
	s := strconv.FormatFloat(v, 'f', digits, 64)
	if strings.Contains(s, ".") {
		s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	}
	if s == "-0" {
		s = "0"
	}
	if u == Degree {
		return s + string(u)
	}
	return s + " " + string(u)
}

// texts writes a value and its limit with as many digits as tell them apart.
func (u Unit) texts(v, limit float64) (string, string) {
	d := max(u.digits(v), u.digits(limit))
	for ; d < 7 && u.with(v, d) == u.with(limit, d); d++ {
	}
	return u.with(v, d), u.with(limit, d)
}

// least is the finding for a value that should reach its limit; none if it
// does. A value that is not a number never does.
func least(s Severity, u Unit, where string, v, limit float64, fix string) []Finding {
	if v >= limit {
		return nil
	}
	return passed(s, u, where, "at least ", v, limit, fix)
}

// most is the finding for a value that should not pass its limit.
func most(s Severity, u Unit, where string, v, limit float64, fix string) []Finding {
	if v <= limit {
		return nil
	}
	return passed(s, u, where, "at most ", v, limit, fix)
}

func passed(s Severity, u Unit, where, side string, v, limit float64, fix string) []Finding {
	value, bound := u.texts(v, limit)
	return []Finding{{
		Severity: s, Where: where, Value: value, Number: v,
		LimitText: side + bound, Limit: limit, Fix: fix,
	}}
}

// told is a finding without a limit.
func told(s Severity, where, value, fix string) Finding {
	return Finding{Severity: s, Where: where, Value: value, LimitText: "none", Fix: fix}
}

// List writes "a", "a and b", "a, b and c".
func List(words []string) string {
	n := len(words)
	if n < 2 {
		return strings.Join(words, "")
	}
	return strings.Join(words[:n-1], ", ") + " and " + words[n-1]
}

// pick is a where true, else b.
func pick[T any](is bool, a, b T) T {
	if is {
		return a
	}
	return b
}

// The sources that stand in several rules.
const (
	cp       = "common practice, no source"
	ownRule  = "this program's own choice, no publication gives a number"
	spe      = "Draft angles, SPE Thermoforming 101, Thermoforming Quarterly 25(1), 2006"
	sheetRow = "row of the sheet table"
)
