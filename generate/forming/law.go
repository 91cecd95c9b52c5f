package forming

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
