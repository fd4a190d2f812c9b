package plan

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"placketeer/rules/trial"

	"github.com/google/go-cmp/cmp"
)

// handPiece is a piece as it was laid out by hand: places in mm.
type handPiece struct {
	Piece string     `json:"piece"`
	Side  string     `json:"side"`
	Lines []handLine `json:"lines"`
	Areas []handArea `json:"areas"`
	Parts []handPart `json:"parts"`
}

type handPoint struct {
	Out float64 `json:"out_mm"`
	At  float64 `json:"at_mm"`
}

type handLine struct {
	Kind string    `json:"kind"`
	From handPoint `json:"from"`
	To   handPoint `json:"to"`
}

type handArea struct {
	Kind    string  `json:"kind"`
	Layer   string  `json:"layer"`
	Name    string  `json:"name"`
	OutFrom float64 `json:"out_from_mm"`
	OutTo   float64 `json:"out_to_mm"`
	From    float64 `json:"from_mm"`
	To      float64 `json:"to_mm"`
}

type handPart struct {
	Role     string    `json:"role"`
	Kind     string    `json:"kind"`
	Number   int       `json:"number"`
	Closure  string    `json:"closure"`
	Layer    int       `json:"layer"`
	Centre   handPoint `json:"centre"`
	OutFrom  float64   `json:"out_from_mm"`
	OutTo    float64   `json:"out_to_mm"`
	From     float64   `json:"from_mm"`
	To       float64   `json:"to_mm"`
	Cut      float64   `json:"cut_mm"`
	Stitched float64   `json:"stitched_mm"`
	Eye      string    `json:"eye"`
}

// asHand are the pieces of a plan in the same words.
func asHand(p *Plan, pieces []Piece) []handPiece {
	var out []handPiece
	at := func(q Point) handPoint { return handPoint{q.Out.MM(), q.At.MM()} }
	for _, pc := range pieces {
		h := handPiece{Piece: pc.Piece, Side: pc.Side.String()}
		for _, l := range pc.Lines {
			h.Lines = append(h.Lines, handLine{l.Kind.String(), at(l.From), at(l.To)})
		}
		for _, a := range pc.Areas {
			layer := ""
			if a.Kind == InterfacingArea {
				layer = a.Layer.String()
			}
			h.Areas = append(h.Areas, handArea{a.Kind.String(), layer, a.Name, a.OutFrom.MM(), a.OutTo.MM(), a.From.MM(), a.To.MM()})
		}
		for _, q := range pc.Parts {
			h.Parts = append(h.Parts, handPart{q.Role.String(), q.Kind.String(), int(q.Number), p.Garment.Closures[q.Closure].Name, int(q.Layer), at(q.Centre),
				q.OutFrom.MM(), q.OutTo.MM(), q.From.MM(), q.To.MM(), q.Cut.MM(), q.Stitched.MM(), q.Eye.String()})
		}
		out = append(out, h)
	}
	return out
}

// The pieces of five garments as they were laid out by hand, with a drawing and
// the arithmetic: testdata/pieces/NAME.txt.
func TestPiecesAreAsLaidByHand(t *testing.T) {
	names, err := filepath.Glob("../../testdata/pieces/*.json")
	if err != nil || len(names) < 5 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var want []handPiece
		if err := json.Unmarshal(text, &want); err != nil {
			t.Fatal(err)
		}
		p := Of(trial.Load(t, strings.TrimSuffix(name, ".json")+".toml"), false)
		if diff := cmp.Diff(want, asHand(p, p.Closures[0].Pieces[0])); diff != "" {
			t.Errorf("%s (-by hand +planned):\n%s", filepath.Base(name), diff)
		}
	}
}

// saidLines are the lines of a piece of one kind, in mm.
func saidLines(pc *Piece, kind LineKind) (out []string) {
	for _, l := range pc.Lines {
		if l.Kind == kind {
			out = append(out, fmt.Sprintf("%g,%g to %g,%g", l.From.Out.MM(), l.From.At.MM(), l.To.Out.MM(), l.To.At.MM()))
		}
	}
	return out
}

// saidAreas are its areas of one kind.
func saidAreas(pc *Piece, kind AreaKind) (out []string) {
	for _, a := range pc.Areas {
		if a.Kind == kind {
			out = append(out, strings.TrimSpace(fmt.Sprintf("%s %g to %g, %g to %g", a.Name, a.OutFrom.MM(), a.OutTo.MM(), a.From.MM(), a.To.MM())))
		}
	}
	return out
}
