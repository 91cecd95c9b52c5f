package forming

import (
	"fmt"
	"math"
)

// Law is the elastic law of the hot sheet: its strain energy per volume as a
// function of the three principal stretches, whose product is 1.
type Law struct {
	Kind  LawKind
	Mu    []float64 // kPa: neo-Hookean one modulus; Mooney-Rivlin C1, C2; Ogden mu_i
	Alpha []float64 // Ogden's exponents
}

// LawKind names a law.
type LawKind string

// The laws. Harmonic is the neo-Hookean energy without its thickness term, the
// limit of large stretch, which has closed-form solutions.
const (
	NeoHookean LawKind = "neo-hookean"
	Mooney     LawKind = "mooney-rivlin"
	Ogden      LawKind = "ogden"
	Harmonic   LawKind = "harmonic"
)

// check says what is wrong with a law; an empty kind is neo-Hookean.
func (l Law) check() error {
	want := map[LawKind]int{"": 1, NeoHookean: 1, Harmonic: 1, Mooney: 2, Ogden: len(l.Alpha)}
	n, known := want[l.Kind]
	switch {
	case !known:
		return fmt.Errorf("forming: no elastic law is called %q", l.Kind)
	case n == 0 || len(l.Mu) != n:
		return fmt.Errorf("forming: the %s law takes %d moduli, %d given", l.Kind, max(n, 1), len(l.Mu))
	}
	if mu := l.Shear(); !(mu > 0 && mu < math.Inf(1)) {
		return fmt.Errorf("forming: the law's shear modulus is %g kPa, it must be more than 0", mu)
	}
	return nil
}

// Shear is the modulus at small strain, kPa (Ogden, Proc. R. Soc. A 326:565,
// 1972: half the sum of mu_i alpha_i).
func (l Law) Shear() float64 {
	switch l.Kind {
	case Mooney:
		return 2 * (l.Mu[0] + l.Mu[1])
	case Ogden:
		sum := 0.0
		for i, m := range l.Mu {
			sum += m * l.Alpha[i] / 2
		}
		return sum
	}
	return l.Mu[0]
}

// energy is the strain energy and its slopes along the two stretches in the
// sheet's plane; the third is 1/(a b). kPa.
func (l Law) energy(a, b float64) (w, wa, wb float64) {
	switch l.Kind {
	case Harmonic:
		return l.Mu[0] / 2 * (a*a + b*b - 2), l.Mu[0] * a, l.Mu[0] * b
	case Mooney:
		c := 1 / (a * b)
		c1, c2 := l.Mu[0], l.Mu[1]
		w = c1*(a*a+b*b+c*c-3) + c2*(1/(a*a)+1/(b*b)+1/(c*c)-3)
		wa = 2*c1*(a-c*c/a) + 2*c2*(a*b*b-1/(a*a*a))
		wb = 2*c1*(b-c*c/b) + 2*c2*(a*a*b-1/(b*b*b))
		return w, wa, wb
	case Ogden:
		for i, m := range l.Mu {
			e := l.Alpha[i]
			pa, pb := math.Pow(a, e), math.Pow(b, e)
			pc := 1 / (pa * pb)
			w += m / e * (pa + pb + pc - 3)
			wa += m * (pa - pc) / a
			wb += m * (pb - pc) / b
		}
		return w, wa, wb
	}
	c := 1 / (a * b)
	return l.Mu[0] / 2 * (a*a + b*b + c*c - 3), l.Mu[0] * (a - c*c/a), l.Mu[0] * (b - c*c/b)
}

// crease is the stiffness, as a share of the shear modulus, that a folded sheet
// keeps against being pressed together further. It makes the folded shape
// definite and is too small to carry anything.
const crease = 0.02

// relaxed is the energy of a sheet that cannot carry compression: it folds
// instead. Across a pull a it is then as narrow as 1/sqrt(a), whatever the law,
// and two compressions cost nothing (Pipkin, IMA J. Appl. Math. 36:85, 1986)
// beyond the crease. a is the larger stretch.
func (l Law) relaxed(a, b float64) (w, wa, wb float64) {
	if l.Kind == Harmonic || !slack(a, b) {
		return l.energy(a, b)
	}
	k := crease * l.Shear()
	if a <= 1 {
		return k / 2 * ((1-a)*(1-a) + (1-b)*(1-b)), -k * (1 - a), -k * (1 - b)
	}
	n := 1 / math.Sqrt(a)
	w, wa, _ = l.energy(a, n) // along n the energy is stationary, so its slope along a is wa alone
	return w + k/2*(n-b)*(n-b), wa - k*(n-b)*n/(2*a), -k * (n - b)
}

// slack reports whether a sheet stretched by a carries no tension across it at
// the stretch b, b <= a.
func slack(a, b float64) bool { return b*b*a < 1 || a <= 1 }
