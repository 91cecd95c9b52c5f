package forming

import (
	"fmt"
	"math"
	"testing"
)

// march goes to a time in n steps.
func (s *slab) march(time float64, n int) {
	for range n {
		s.step(time / float64(n))
	}
}

// thick is a plate 6 mm thick; its Fourier number grows by 1 in fo seconds.
func plate() (of Substance, half, fo float64) {
	of = Substance{K: 0.2, Density: 1200, Cp: 1500}
	half = 3
	return of, half, half * half * 1e-6 / (of.K / (of.Density * of.Cp))
}

// A plate put into a bath: the series of Carslaw and Jaeger, Conduction of Heat
// in Solids, 2nd ed. 1959, 3.11 (as in Incropera, Fundamentals of Heat and Mass
// Transfer, 5.5): with zeta tan zeta = Bi,
// theta = sum 4 sin z / (2 z + sin 2 z) exp(-z² Fo) cos(z x/L).
func TestSlabAgainstTheSeriesOfABath(t *testing.T) {
	of, half, second := plate()
	for _, bi := range []float64{0.1, 1, 10} {
		h := bi * of.K / (half / 1000)
		for _, fo := range []float64{0.05, 0.2, 1} {
			b := newSlab(even(of, 2*half, 120), convective(h, 100), convective(h, 100), 20)
			b.march(fo*second, 400)
			name := fmt.Sprintf("Bi %g, Fo %g", bi, fo)
			for _, at := range []struct {
				where string
				x     float64 // from the middle over the half thickness
				got   float64
			}{{"face", 1, b.t[0]}, {"middle", 0, (b.t[60] + b.t[61]) / 2}} {
				want := 100 - 80*bath(bi, fo, at.x)
				if math.Abs(at.got-want) > 80*2e-4 {
					t.Errorf("%s, %s: %.4f °C, series %.4f", name, at.where, at.got, want)
				}
			}
		}
	}
}

func bath(bi, fo, x float64) float64 {
	theta := 0.0
	for n := range 60 {
		lo, hi := float64(n)*math.Pi, float64(n)*math.Pi+math.Pi/2
		for range 100 {
			if z := (lo + hi) / 2; z*math.Sin(z) < bi*math.Cos(z) == (n%2 == 0) {
				lo = z
			} else {
				hi = z
			}
		}
		z := (lo + hi) / 2
		theta += 4 * math.Sin(z) / (2*z + math.Sin(2*z)) * math.Exp(-z*z*fo) * math.Cos(z*x)
	}
	return theta
}

// A plate with a steady flux into both faces: Carslaw and Jaeger 1959, 3.8,
// T = T0 + q L/k (Fo + (3 x² - 1)/6 - 2/pi² sum (-1)^n/n² exp(-n² pi² Fo) cos(n pi x)).
func TestSlabAgainstTheSeriesOfAFlux(t *testing.T) {
	of, half, second := plate()
	const q = 8000.0
	flux := func(float64) (float64, float64) { return q, 0 }
	rise := q * half / 1000 / of.K
	for _, fo := range []float64{0.02, 0.1, 0.5, 2} {
		b := newSlab(even(of, 2*half, 120), flux, flux, 20)
		b.march(fo*second, 400)
		for _, at := range []struct{ x, got float64 }{{1, b.t[0]}, {0, (b.t[60] + b.t[61]) / 2}} {
			sum := 0.0
			for n := 1; n <= 200; n++ {
				f := float64(n)
				sum += math.Pow(-1, f) / (f * f) * math.Exp(-f*f*math.Pi*math.Pi*fo) * math.Cos(f*math.Pi*at.x)
			}
			want := 20 + rise*(fo+(3*at.x*at.x-1)/6-2/(math.Pi*math.Pi)*sum)
			if math.Abs(at.got-want) > rise*2e-4 {
				t.Errorf("Fo %g, x %g: %.4f °C, series %.4f", fo, at.x, at.got, want)
			}
		}
		near(t, "heat taken up", b.mean(0, 120)-20, rise*fo, 1e-9)
	}
}

// What a steadily heated face is warmer than the middle: q L/(2 k), worked by hand
// from Carslaw and Jaeger 1959, 3.8, for 1.5 mm.
func TestSlabFaceAboveMiddle(t *testing.T) {
	of := Substance{K: 0.17, Density: 1050, Cp: 1500}
	for _, tt := range []struct{ q, want float64 }{{8442, 18.62}, {3696, 8.153}} {
		flux := func(float64) (float64, float64) { return tt.q, 0 }
		b := newSlab(even(of, 1.5, 120), flux, flux, 20)
		b.march(20, 400)
		near(t, "difference", b.t[0]-(b.t[60]+b.t[61])/2, tt.want, 2e-4)
	}
}

// The error falls with the square of the layers and of the steps.
func TestSlabIsOfSecondOrder(t *testing.T) {
	of, half, second := plate()
	const bi, fo = 1.0, 0.3
	h := bi * of.K / (half / 1000)
	off := func(layers, steps int) float64 {
		b := newSlab(even(of, 2*half, layers), convective(h, 100), convective(h, 100), 20)
		b.march(fo*second, steps)
		return math.Abs(b.t[0] - (100 - 80*bath(bi, fo, 1)))
	}
	for _, tt := range []struct {
		name         string
		coarse, fine float64
	}{{"layers", off(10, 3000), off(20, 3000)}, {"steps", off(600, 4), off(600, 8)}} {
		if order := math.Log2(tt.coarse / tt.fine); !(order > 1.8) {
			t.Errorf("%s: errors %.3g and %.3g K, order %.2f, want 2", tt.name, tt.coarse, tt.fine, order)
		}
	}
}

// A sheet that conducts so well that it has no inner difference is the lump of
// the closed form: 16.807 s for ABS of 1.5 mm from 20 to 150 °C at 400 °C.
func TestSlabAgainstTheLump(t *testing.T) {
	of := absSheet
	of.K = 1e4
	hot := radiating(Exchange(0.9, 0.95), 400)
	b := newSlab(even(of, 1.5, 4), hot, hot, 20)
	b.march(16.807, 400)
	near(t, "temperature after the lump's time", b.mean(0, 4), 150, digits4)
}

// Melting takes its heat and no more: a steady flux into a tight sheet warms
// it by q t less what melts.
func TestSlabKeepsTheHeatOfMelting(t *testing.T) {
	of := Substance{K: 0.2, Density: 905, Cp: 2100, Melting: 100e3, Melts: [2]float64{162, 168}}
	const q, gauge, time = 4000.0, 1.0, 120.0
	b := newSlab(even(of, gauge, 20), func(float64) (float64, float64) { return q, 0 }, tight, 20)
	b.march(time, 300)
	held := 0.0
	for i, l := range b.layers {
		now, _ := l.heat(b.t[i+1])
		cold, _ := l.heat(20)
		held += now - cold
	}
	near(t, "heat held", held, q*time, 1e-7)
	warm := q*time/(of.Density*gauge/1000*of.Cp) + 20
	if got := b.mean(0, 20); !(got < warm-40) {
		t.Errorf("mean %.1f °C: melting took nothing of %.1f", got, warm)
	}
}

// Where two thick bodies meet the face takes the mean of their temperatures
// weighed by effusivity, at once, and keeps it. Source: Carslaw and Jaeger.
func TestFaceBetweenAgainstContact(t *testing.T) {
	hot := graded(absSheet, 20, 0.01, 60)
	all := make([]layer, 0, 120)
	for i := range hot {
		all = append(all, hot[len(hot)-1-i])
	}
	all = append(all, graded(plaPrint, 20, 0.01, 60)...)
	b := newSlab(all, tight, tight, 25)
	for i := range 61 {
		b.t[i] = 150
	}
	want := Contact(absSheet, 150, plaPrint, 25)
	for _, time := range []float64{0.1, 1, 10} {
		b.march(time, 200)
		if got := b.faceBetween(60); math.Abs(got-want) > 0.1 {
			t.Errorf("after %g s more: %.3f °C, want %.3f", time, got, want)
		}
	}
}

func TestGradedFillsTheWall(t *testing.T) {
	for _, n := range []int{5, 30} {
		sum := 0.0
		l := graded(absSheet, 1.35, 0.01, n)
		for _, x := range l {
			sum += x.thick
		}
		near(t, "thickness", sum, 1.35e-3, 1e-9)
		near(t, "finest", l[0].thick, 1e-5, 1e-9)
	}
}
