package proof

import "testing"

// TestJoinedPocketKeepsItsGaps: at the creases of a pocket that two items share
// every member of the family is as far from the next as anywhere.
func TestJoinedPocketKeepsItsGaps(t *testing.T) {
	m := run(t, "testdata/joined.yaml", "--parts", "buck,insert,press-tool")
	t.Run("sheet", func(t *testing.T) { sheetLies(t, m) })
	t.Run("plug", func(t *testing.T) { plugFits(t, m, 0.45) }) // small plugs are edges for the most part
	judgeRelease(t, "joined", m, 3, 5)
	judgeVents(t, m, Platen{10, 2}, 1)
}
