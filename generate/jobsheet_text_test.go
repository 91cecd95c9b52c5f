package generate

import (
	"fmt"
	"strings"
	"testing"
)

// A size that lies half-way is rounded to one side on the job sheet, on the pictures and
// on the trim guide, which has its height cut into it.
func TestOneSizeIsWrittenOneWay(t *testing.T) {
	for _, v := range []float64{19.15, 26.25, 0.05, 3.35, 12} {
		if got, cut := fixed(1, v), fmt.Sprintf("%.1f", v); got != cut {
			t.Errorf("%g is %s on the sheet and %s on the guide", v, got, cut)
		}
	}
	for _, v := range []float64{3.175, 1.016, 0.125, 2} {
		if got := fixed(2, v); trim(v, 2) != strings.TrimRight(strings.TrimRight(got, "0"), ".") {
			t.Errorf("%g is %s on the sheet and %s in a legend", v, got, trim(v, 2))
		}
	}
}
