package generate

import (
	"math"
	"reflect"
	"testing"

	"buckwright/generate/forming"
	"buckwright/params"
)

// A law that the sheet's row or the kit gives is the one that is formed with; else it
// is neo-Hookean with the geometric mean of the modulus.
func TestHotLaw(t *testing.T) {
	for _, tt := range []struct {
		name  string
		law   *params.Law
		want  forming.Law
		shear float64 // kPa, worked by hand
	}{
		{"none", nil, forming.Law{Kind: forming.NeoHookean, Mu: []float64{300}}, 300},
		{"neo-hookean", &params.Law{Kind: params.NeoHookean, Moduli: []float64{250}},
			forming.Law{Kind: forming.NeoHookean, Mu: []float64{250}}, 250},
		{"mooney-rivlin", &params.Law{Kind: params.MooneyRivlin, Moduli: []float64{100, 20}},
			forming.Law{Kind: forming.Mooney, Mu: []float64{100, 20}}, 2 * (100 + 20)},
		{"ogden", &params.Law{Kind: params.Ogden, Moduli: []float64{200, -10}, Exponents: []float64{2, -2}},
			forming.Law{Kind: forming.Ogden, Mu: []float64{200, -10}, Alpha: []float64{2, -2}}, (200*2 + 10*2) / 2},
	} {
		got := hotLaw(params.Sheet{Mu: params.Span{Least: 90, Most: 1000}, Law: tt.law})
		if !reflect.DeepEqual(got, tt.want) || math.Abs(got.Shear()-tt.shear) > 1e-9 {
			t.Errorf("%s: hotLaw = %+v of shear modulus %g, want %+v of %g", tt.name, got, got.Shear(), tt.want, tt.shear)
		}
	}
}
