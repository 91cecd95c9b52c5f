package params

import (
	"strings"

	"gopkg.in/yaml.v3"
)

// limits reads `rule: number`. Which rules there are is known to the checks
// alone; here the names are only held to their form.
type limits struct{ to *map[string]float64 }

const ruleName = `^[a-z][a-z0-9-]*$`

func (v limits) read(r *reader, at string, n *yaml.Node) {
	if !r.usable(at, n) {
		return
	}
	if n.Kind != yaml.MappingNode {
		r.problem(n, at, found(n)+", `rule: number` is expected", "`buckwright check --list` names the rules")
		return
	}
	r.place(at, n)
	all := map[string]float64{}
	r.eachKey(at, n, func(rule string, name, val *yaml.Node) {
		if !isRuleName(rule) {
			r.problem(name, at, quote(rule)+" is not the name of a rule", "`buckwright check --list` names the rules")
			return
		}
		if x, ok := r.limit(join(at, rule), val); ok {
			all[rule] = x
			r.place(join(at, rule), val)
		}
	})
	*v.to = all
}

func isRuleName(s string) bool {
	return len(s) > 0 && len(s) <= longestName && s[0] >= 'a' && s[0] <= 'z' &&
		strings.Trim(s, "abcdefghijklmnopqrstuvwxyz0123456789-") == ""
}

// limit reads a number in the unit that the rule has; another unit of the same
// quantity may be written. Rules on masses are in kilograms.
func (r *reader) limit(at string, n *yaml.Node) (float64, bool) {
	q := ratio
	if n.Kind == yaml.ScalarNode {
		if _, name, _ := split(strings.TrimSpace(n.Value)); name != "" {
			q = quantityOf(name)
		}
	}
	r.help = "`buckwright check --list` shows the rule's own limit"
	const most = 1e6
	v, ok := number{nil, q, -most, most}.number(r, at, n)
	if q == mass {
		v /= 1000
	}
	return v, ok
}

// quantityOf is the first quantity that is written in the unit.
func quantityOf(name string) quantity {
	for q := ratio; q <= enthalpy; q++ {
		for _, u := range q.units() {
			if u.name == name {
				return q
			}
		}
	}
	return ratio
}
