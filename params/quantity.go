package params

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// quantity is what a number measures; it decides which units may be written.
type quantity int

const (
	ratio quantity = iota // no unit
	share
	length
	angle
	area
	mass
	density
	pressure
	modulus
	force
	volume
	flow
	temperature
	heatCapacity
	conductivity
	enthalpy
	speed
	acceleration
	duration
)

// unit is one way to write a quantity: value = number * factor + offset.
type unit struct {
	name   string
	factor float64
	offset float64
}

// units lists what may be written; the first is meant when none is. Factors
// are exact by definition (SI brochure 9th ed., NIST SP 811 appendix B.8),
// inHg is the conventional one at 0 °C.
func (q quantity) units() []unit {
	switch q {
	case share:
		return []unit{{"", 1, 0}, {"%", 0.01, 0}}
	case length:
		return []unit{{"mm", 1, 0}, {"cm", 10, 0}, {"m", 1000, 0}, {"in", 25.4, 0}, {`"`, 25.4, 0},
			{"inch", 25.4, 0}, {"inches", 25.4, 0}, {"ft", 304.8, 0}, {"mil", 0.0254, 0}, {"thou", 0.0254, 0},
			{"um", 0.001, 0}, {"µm", 0.001, 0}, {"μm", 0.001, 0}}
	case angle:
		return []unit{{"deg", 1, 0}, {"°", 1, 0}, {"degrees", 1, 0}, {"rad", 180 / math.Pi, 0}}
	case area:
		return []unit{{"mm2", 1, 0}, {"mm²", 1, 0}, {"cm2", 100, 0}, {"cm²", 100, 0}, {"in2", 645.16, 0}, {"in²", 645.16, 0}}
	case mass:
		return []unit{{"g", 1, 0}, {"kg", 1000, 0}, {"mg", 0.001, 0}, {"lb", 453.59237, 0}, {"lbs", 453.59237, 0}, {"oz", 28.349523125, 0}}
	case density:
		return []unit{{"kg/m3", 1, 0}, {"kg/m³", 1, 0}, {"g/cm3", 1000, 0}, {"g/cm³", 1000, 0}}
	case pressure:
		return []unit{{"kPa", 1, 0}, {"Pa", 0.001, 0}, {"MPa", 1000, 0}, {"bar", 100, 0}, {"mbar", 0.1, 0},
			{"psi", 6.894757293168361, 0}, {"inHg", 3.386389, 0}, {"mmHg", 0.133322387415, 0}}
	case modulus:
		return []unit{{"MPa", 1, 0}, {"GPa", 1000, 0}, {"kPa", 0.001, 0}}
	case force:
		return []unit{{"N", 1, 0}, {"kN", 1000, 0}, {"lbf", 4.4482216152605, 0}, {"kgf", 9.80665, 0}}
	case volume:
		return []unit{{"l", 1, 0}, {"L", 1, 0}, {"litre", 1, 0}, {"litres", 1, 0}, {"liter", 1, 0}, {"liters", 1, 0},
			{"ml", 0.001, 0}, {"gal", 3.785411784, 0}}
	case flow:
		return []unit{{"l/min", 1, 0}, {"L/min", 1, 0}, {"m3/h", 1000.0 / 60, 0}, {"m³/h", 1000.0 / 60, 0}, {"cfm", 28.316846592, 0}}
	case temperature:
		return []unit{{"C", 1, 0}, {"°C", 1, 0}, {"F", 5.0 / 9, -160.0 / 9}, {"°F", 5.0 / 9, -160.0 / 9}}
	case heatCapacity:
		return []unit{{"J/kgK", 1, 0}}
	case conductivity:
		return []unit{{"W/mK", 1, 0}}
	case enthalpy:
		return []unit{{"J/g", 1, 0}, {"kJ/kg", 1, 0}}
	case speed:
		return []unit{{"mm/s", 1, 0}, {"mm/min", 1.0 / 60, 0}, {"m/min", 1000.0 / 60, 0}}
	case acceleration:
		return []unit{{"mm/s2", 1, 0}, {"mm/s²", 1, 0}}
	case duration:
		return []unit{{"h", 1, 0}, {"min", 1.0 / 60, 0}}
	}
	return []unit{{"", 1, 0}}
}

// noun names the quantity in a message, with its article.
func (q quantity) noun() string {
	switch q {
	case share:
		return "a share"
	case length:
		return "a length"
	case angle:
		return "an angle"
	case area:
		return "an area"
	case mass:
		return "a mass"
	case density:
		return "a density"
	case pressure:
		return "a pressure"
	case modulus:
		return "a modulus"
	case force:
		return "a force"
	case volume:
		return "a volume"
	case flow:
		return "a flow"
	case temperature:
		return "a temperature"
	case heatCapacity:
		return "a heat capacity"
	case conductivity:
		return "a conductivity"
	case enthalpy:
		return "a heat of melting"
	case speed:
		return "a speed"
	case acceleration:
		return "an acceleration"
	case duration:
		return "a time"
	}
	return "a number"
}

// text writes v with the unit in which it is best read.
func (q quantity) text(v float64) string {
	switch {
	case q == share:
		return plain(100*v) + " %"
	case q.units()[0].name == "":
		return plain(v)
	}
	return plain(v) + " " + q.units()[0].name
}

// unitNames lists every way to write a unit, in the order of the table.
func (q quantity) unitNames() []string {
	var names []string
	for _, u := range q.units() {
		if u.name != "" {
			names = append(names, u.name)
		}
	}
	return names
}

// mainNames lists each unit that has a name once, by its first name.
func (q quantity) mainNames() []string {
	var names []string
	for i, u := range q.units() {
		if u.name != "" && (i == 0 || u.factor != q.units()[i-1].factor) {
			names = append(names, u.name)
		}
	}
	return names
}

// plain writes v with at most six significant digits and no exponent.
func plain(v float64) string {
	short, err := strconv.ParseFloat(fmt.Sprintf("%.6g", v), 64)
	if err != nil || math.Abs(short) >= 1e12 || short != 0 && math.Abs(short) < 1e-9 {
		return fmt.Sprintf("%g", v)
	}
	return strconv.FormatFloat(short, 'f', -1, 64)
}

// measure is one number as typed.
type measure struct {
	value float64 // in the plain unit
	bare  bool    // no unit was written
}

// complaint says what is wrong with a number, and what to write instead.
type complaint struct{ what, hint string }

// ValueError is a number that cannot be read, outside of any file.
type ValueError struct {
	What string // what stands there, and what is wrong with it
	Hint string // what to write instead
}

func (e *ValueError) Error() string { return e.What }

// Length reads a length as a kit file may give it, in mm. The error is a *ValueError.
func Length(s string) (mm float64, err error) {
	m, wrong := length.parse(s)
	if wrong.what != "" {
		return 0, &ValueError{wrong.what, wrong.hint}
	}
	return m.value, nil
}

const (
	decimal  = `[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?`
	fraction = `[+-]?(?:[0-9]+(?: +|-))?[0-9]+/[0-9]+`
)

var leading = regexp.MustCompile(`^(?:` + fraction + `|` + decimal + `)`)

// split parts a number from its unit: 0.040 in, 15 %, 1/8 in, 1 1/2 in, -1-1/2 in.
func split(s string) (number, unit string, ok bool) {
	number = leading.FindString(s)
	unit = strings.TrimSpace(s[len(number):])
	return number, unit, number != ""
}

// parse reads a number with or without a unit. A complaint's what is empty
// when the number was read.
func (q quantity) parse(s string) (measure, complaint) {
	const longest = 60 // characters; more than any program writes
	s = strings.TrimSpace(s)
	if len(s) > longest {
		return measure{}, complaint{quote(s) + " is too long for " + q.noun(), "write the number that was measured"}
	}
	number, name, ok := split(s)
	if !ok {
		return measure{}, complaint{quote(s) + " is not " + q.noun(), numberHint(s)}
	}
	if c := oddNumber(number, name, s); c.what != "" {
		return measure{}, c
	}
	v := numberValue(number)
	if name == "" {
		u := q.units()[0]
		return measure{v*u.factor + u.offset, true}, complaint{}
	}
	for _, u := range q.units() {
		if u.name == name {
			return measure{v*u.factor + u.offset, false}, complaint{}
		}
	}
	return measure{}, q.wrongUnit(number, name, s)
}

// numberValue reads what split has found; a division by zero gives infinity,
// which no range holds.
func numberValue(s string) float64 {
	whole := 0.0
	if rest, minus := strings.CutPrefix(s, "-"); minus && strings.Contains(s, "/") {
		return 0 - numberValue(rest) // no negative zero
	}
	if i := strings.LastIndexAny(s, " -"); i >= 0 && strings.Contains(s, "/") {
		whole, _ = strconv.ParseFloat(strings.TrimSpace(s[:i]), 64)
		s = s[i+1:]
	}
	if top, bottom, ok := strings.Cut(strings.TrimPrefix(s, "+"), "/"); ok {
		a, _ := strconv.ParseFloat(top, 64)
		b, _ := strconv.ParseFloat(bottom, 64)
		return whole + a/b
	}
	v, _ := strconv.ParseFloat(s, 64) // too large gives infinity
	return v + 0                      // no negative zero
}

func numberHint(s string) string {
	low := strings.ToLower(strings.TrimLeft(s, "+-."))
	switch {
	case low == "nan" || low == "inf" || strings.HasPrefix(low, "infinity"):
		return "write the number that was measured"
	case strings.HasPrefix(s, "$") || strings.HasPrefix(s, "{{"):
		return "a kit holds plain values; nothing is filled in"
	}
	return "write a number, with its unit if you like"
}

// oddNumber catches what starts like a number and is read differently by
// different programs.
func oddNumber(number, name, s string) complaint {
	first, _ := cutAny(number, "./eE ")
	digits := strings.TrimLeft(first, "+-")
	switch {
	case len(digits) > 1 && digits[0] == '0':
		return complaint{quote(s) + " starts with a zero", "write " + strings.TrimLeft(number, "+-0") + "; some programs would read it as octal"}
	case strings.HasPrefix(name, ",") && len(name) > 1 && isDigit(name[1]):
		return complaint{quote(s) + " has a comma", "write the decimal with a point: " + strings.Replace(s, ",", ".", 1)}
	case strings.HasPrefix(name, "_"):
		return complaint{quote(s) + " has an underscore", "write the digits together: " + strings.ReplaceAll(s, "_", "")}
	case number == "0" && len(name) > 1 && strings.ContainsAny(name[:1], "xXoObB") && isHexDigit(name[1]):
		return complaint{quote(s) + " is not a decimal number", "write it in decimals"}
	}
	return complaint{}
}

func cutAny(s, any string) (before, after string) {
	if i := strings.IndexAny(s, any); i >= 0 {
		return s[:i], s[i:]
	}
	return s, ""
}

func isDigit(c byte) bool    { return c >= '0' && c <= '9' }
func isHexDigit(c byte) bool { return isDigit(c) || c|0x20 >= 'a' && c|0x20 <= 'f' }

func (q quantity) wrongUnit(number, name, s string) complaint {
	names := q.unitNames()
	if len(names) == 0 {
		return complaint{quote(s) + " has the unit " + quote(name), "write the number alone: " + number}
	}
	for _, n := range names {
		if strings.EqualFold(n, name) {
			return complaint{quote(s) + " has the unit " + quote(name), "write " + number + " " + n + "; capitals matter in units"}
		}
	}
	main := q.mainNames()
	what := fmt.Sprintf("%s has the unit %s, and %s is written in %s", quote(s), quote(name), q.noun(), strings.Join(main, ", "))
	if len(main) == 1 {
		return complaint{what, "write " + number + " " + main[0]}
	}
	return complaint{what, "write the number with one of these units"}
}
