package generate

import (
	"errors"
	"math"
	"strings"
	"testing"

	"buckwright/generate/fit"
	"buckwright/generate/geom"
	"buckwright/generate/sdf"
	"buckwright/generate/solid"
	"buckwright/params"
)

// screwed is a layout of one box pocket with screws at the given places.
func screwed(t *testing.T, half geom.Vec2, at ...geom.Vec2) *Result {
	t.Helper()
	k, err := params.Parse("kit.yaml", []byte("kit: a\nitems: [{name: b, shape: {ellipsoid: {size: [80, 50, 30]}}, depth: 9, mass: 50}]\nbuck:\n  screws:\n    at: [[0, 0], [1, 1]]\n"))
	if err != nil {
		t.Fatal(err)
	}
	d := fit.Dims{}
	d.Insert.CornerRadius, d.Insert.Margin = 16, 14
	d.Buck.Channel, d.Buck.ChannelH, d.Buck.ChannelGap, d.Buck.Bore, d.Buck.Floor = 3.2, 2, 6.7, 4, 6
	d.Buck.Screw = fit.ScrewDims{Thread: "M4", Bore: 5.6, Deep: 9.6, Boss: 11.2, Count: 4, At: at}
	pocket := func(float64) sdf.Solid { return sdf.Prism(sdf.Rect(half.X, half.Y, 5), -15, 20) }
	l := solid.NewLayout(d, nil, pocket, pocket, geom.Box{Min: geom.V(-half.X, -half.Y, 0), Max: geom.V(half.X, half.Y, 0)})
	return &Result{Kit: k, Dims: &d, Layout: l}
}

// The four places that are chosen are those of a symmetric tool.
func TestChosenScrewsAreSymmetric(t *testing.T) {
	r := screwed(t, geom.Vec2{X: 40, Y: 28})
	if err := r.screw(r.Kit); err != nil {
		t.Fatal(err)
	}
	if len(r.Layout.Screws) != 4 {
		t.Fatalf("%v", r.Layout.Screws)
	}
	first := r.Layout.Screws[0]
	for _, s := range r.Layout.Screws {
		if math.Abs(math.Abs(s.X)-math.Abs(first.X)) > 1e-9 || math.Abs(math.Abs(s.Y)-math.Abs(first.Y)) > 1e-9 {
			t.Errorf("%v", r.Layout.Screws)
		}
	}
}

func TestScrewsWithoutRoom(t *testing.T) {
	for _, tt := range []struct {
		at   []geom.Vec2
		want string
	}{
		{[]geom.Vec2{{X: 46, Y: 30}, {X: 3, Y: 0}}, "kit.yaml:5:18: buck.screws.at[1]: a screw at 3, 0 is too near a pocket"},
		{[]geom.Vec2{{X: 60, Y: 0}, {X: 46, Y: 30}}, "kit.yaml:5:10: buck.screws.at[0]: a screw at 60, 0 is too near the skirt"},
	} {
		r := screwed(t, geom.Vec2{X: 40, Y: 28}, tt.at...)
		err := r.screw(r.Kit)
		var p *params.Problem
		if !errors.As(err, &p) || !strings.HasPrefix(err.Error(), tt.want) {
			t.Errorf("%v: %v, want %s", tt.at, err, tt.want)
		}
	}
}
