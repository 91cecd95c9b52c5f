package fit

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// lidCloses refuses pads that the worst case would press solid.
func (b *builder) lidCloses() {
	var pressed []string
	worst := 0
	for i, it := range b.d.Items {
		if it.PadArea > 0 && it.Pad.Worst.Most >= b.pad.Limit() {
			pressed = append(pressed, it.Name)
		}
		if it.Pad.Worst.Most > b.d.Items[worst].Pad.Worst.Most {
			worst = i
		}
	}
	if len(pressed) == 0 {
		return
	}
	stack := b.padStack(&b.d.Items[worst])
	total, top := Worst(stack.Gaps...), widest(stack)
	keys := []string{"lid_liner.thickness", "lid_liner.compression"}
	if top.by > total/2 { // more than all the others together: it is at fault, not the pad
		keys = append(top.keys, keys...)
	}
	b.problem(b.typed(append(keys, fmt.Sprintf("items[%d]", worst))...),
		"a thicker lid_liner.thickness, less lid_liner.compression, "+top.mend,
		"the lid cannot close: in the worst case the pad over %s would be pressed solid; of its %.2f mm tolerances take %.2f, %s %.2f",
		strings.Join(pressed, " and that over "), stack.Gap, total, top.of, top.by)
}

// padTolerance is one of the tolerances that a pad has to make up for.
type padTolerance struct {
	of   string   // what varies
	by   float64  // mm, at most
	keys []string // of the kit that set it, the more exact first
	mend string   // what makes it smaller
}

// widest is the largest tolerance of a padStack.
func widest(s Stack) padTolerance {
	return slices.MaxFunc([]padTolerance{
		{"that of the liner's thickness", s.Gaps[4], []string{"liner.tolerance", "liner.thickness"}, "a thinner liner.thickness, or a closer liner.tolerance"},
		{"that of the product", s.Gaps[0] + s.Gaps[1], []string{"tolerance.product"}, "or a closer tolerance.product"},
		{"that of the printed faces", s.Gaps[2] + s.Gaps[3], []string{"printer.tolerance"}, "or a closer printer.tolerance"},
		{"that of the formed sheet", s.Gaps[5], []string{"sheet.gauge"}, "or a thinner sheet.gauge"},
	}, func(a, b padTolerance) int { return cmp.Compare(a.by, b.by) })
}
