// Package check compares a kit's sizes with what the trade allows, and says
// what to change. Every rule carries its limit and who published it. It
// judges and never changes anything: it knows no solid and draws nothing.
//
// It guarantees the same findings in the same order for the same job. It does
// not guarantee that a kit without findings works: a rule is only as good as
// its source, and the sources say so.
package check

import (
	"cmp"
	"slices"

	"buckwright/params"
)

// Severity is how bad a finding is.
type Severity string

const (
	Stop Severity = "stop" // made as it is, it will not work
	Warn Severity = "warn" // it may not work: read, measure, decide
	Note Severity = "note" // good to know before starting
)

// rank sorts the worst first.
func (s Severity) rank() int { return slices.Index([]Severity{Stop, Warn, Note}, s) }

// Rule is one limit and where that limit was published.
type Rule struct {
	ID     string // stable, printed, never reused; also the key under `limits`
	Title  string
	Limit  string // as listed, with its unit
	Unit   Unit   // of the number that `limits` takes; None: nothing to replace
	Source string // author, title, year, section; or that there is none
	Key    string // the kit's key that moves it, dotted
	Run    func(*Job) []Finding
}

// Finding is one place where a job passes a rule's limit.
type Finding struct {
	ID         string   `json:"id"`
	Severity   Severity `json:"severity"`
	Title      string   `json:"title"` // the rule's
	Where      string   `json:"where"` // in the user's words: "pocket of logger"
	Value      string   `json:"value"` // with unit
	Number     float64  `json:"-"`     // the same, in the rule's unit as computed: shares 0 to 1
	LimitText  string   `json:"limit"` // with unit
	Limit      float64  `json:"-"`
	Source     string   `json:"source"`
	Fix        string   `json:"fix"` // which key to change, and which way
	Key        string   `json:"key"` // that key alone
	Overridden bool     `json:"overridden,omitempty"`
}

// All lists every rule, in the order they are reported.
func All() []Rule {
	return []Rule{
		// the sheet and the former
		gaugeSold(), blankFits(), blankMargin(), drapeRoom(), buckHeight(), vacuum(), crystalline(), dryFirst(), heatWindow(),
		// how it forms
		thinWall(), unfilled(), web(), evacuation(),
		// the buck
		draftFemale(), draftMale(), pocketDepth(), edgeRadius(), mouthRadius(), rimRadius(), rib(), spacing(), pocketShared(),
		ventNone(), ventPin(), ventMark(), ventThick(), ventDrill(), buckHeat(), buckRun(), buckInfill(), roof(), layerLines(), shrinkSheet(),
		// the items in their pockets
		meshOpen(), meshMended(), itemsOverlap(), linerLoose(), linerCrush(), productTolerance(), linerPinch(), restsHigh(), contact(), undercut(), reach(),
		turnedOver(), pullEasy(), pullHard(), pushHard(), pressForce(), pressCement(),
		// the case
		insertLoose(), insertCrush(), slipJam(), slipRattle(), lidCloses(), padLoose(), padCrush(), padMeets(),
		closureHolds(), catchStrain(), wallRounded(), shrinkPrint(), partBed(), bridge(), freeEdge(),
		// what is cut
		flatRefused(), flatStock(), flatSmall(), feltStrain(),
		// what everyone should know
		laser(), drop(),
	}
}

// Run applies every rule, stamps each finding with the rule that made it and
// sorts the worst first, otherwise in the order of All.
func Run(j *Job) []Finding {
	var all []Finding
	for _, r := range All() {
		for _, f := range r.Run(j) {
			all = append(all, r.stamp(f, j.Kit.Limits))
		}
	}
	slices.SortStableFunc(all, func(a, b Finding) int {
		return cmp.Compare(a.Severity.rank(), b.Severity.rank())
	})
	return all
}

// stamp fills in what a finding has from its rule.
func (r Rule) stamp(f Finding, own map[string]float64) Finding {
	f.ID, f.Title, f.Source = r.ID, r.Title, r.Source
	if f.Key == "" {
		f.Key = r.Key
	}
	if _, ok := own[r.ID]; ok && r.Unit != None {
		f.Overridden = true
		f.LimitText += " (set in the kit)"
		f.Source = "limits." + r.ID + " of the kit, in place of: " + r.Source
	}
	return f
}

// Stops reports whether any finding says stop.
func Stops(all []Finding) bool {
	return slices.ContainsFunc(all, func(f Finding) bool { return f.Severity == Stop })
}

// UnknownLimits lists the keys of a kit's `limits` that name no rule with a
// number to replace, sorted.
func UnknownLimits(k *params.Kit) []string {
	known := map[string]bool{}
	for _, r := range All() {
		known[r.ID] = r.Unit != None
	}
	var out []string
	for id := range k.Limits {
		if !known[id] {
			out = append(out, id)
		}
	}
	slices.Sort(out)
	return out
}
