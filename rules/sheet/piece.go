package sheet

import "placketeer/rules/plan"

// PieceOut is one piece of cloth of an opening, lying flat: see plan.Piece
// for what out and at are told from.
type PieceOut struct {
	Piece string    `json:"piece"`
	Side  string    `json:"side"` // over, under, flap
	Lines []LineOut `json:"lines"`
	Areas []AreaOut `json:"areas"`
	Parts []PartOut `json:"parts"`
}

// PointOut is a place on a piece.
type PointOut struct {
	Out MM `json:"out_mm"` // from the meeting line towards the edge; negative: inside
	At  MM `json:"at_mm"`  // from the top
}

// LineOut is a line of a piece.
type LineOut struct {
	Kind string   `json:"kind"`
	From PointOut `json:"from"`
	To   PointOut `json:"to"`
}

// AreaOut is a rectangle of a piece.
type AreaOut struct {
	Kind    string  `json:"kind"`
	Layer   *string `json:"layer"` // of interfacing: the list of layers that holds it
	Name    *string `json:"name"`
	OutFrom MM      `json:"out_from_mm"`
	OutTo   MM      `json:"out_to_mm"`
	From    MM      `json:"from_mm"`
	To      MM      `json:"to_mm"`
}

// PartOut is a fastener, a hole or a loop with all that it covers.
type PartOut struct {
	Role     string   `json:"role"` // works, show, inner
	Kind     string   `json:"kind"`
	Number   int      `json:"number"` // of its row or place from the top
	Closure  string   `json:"closure"`
	Layer    int      `json:"layer"` // how many layers of the opening lie over it
	Centre   PointOut `json:"centre"`
	OutFrom  MM       `json:"out_from_mm"`
	OutTo    MM       `json:"out_to_mm"`
	From     MM       `json:"from_mm"`
	To       MM       `json:"to_mm"`
	Cut      *MM      `json:"cut_mm"` // of a hole; 0: sewn and not cut
	Stitched *MM      `json:"stitched_mm"`
	Eye      *string  `json:"eye"` // of a hole with an eye, where it looks: out, up
}

// pieces are the pieces of the opening of closure i in the size of that
// place.
func (s *Garment) pieces(i, size int) []PieceOut {
	out := []PieceOut{}
	k := &s.plan.Closures[i]
	if size >= len(k.Pieces) {
		return out
	}
	for j := range k.Pieces[size] {
		pc := &k.Pieces[size][j]
		p := PieceOut{
			Piece: pc.Piece, Side: pc.Side.String(),
			Lines: make([]LineOut, len(pc.Lines)), Areas: make([]AreaOut, len(pc.Areas)), Parts: make([]PartOut, len(pc.Parts)),
		}
		for n, l := range pc.Lines {
			p.Lines[n] = LineOut{l.Kind.String(), pointOut(l.From), pointOut(l.To)}
		}
		for n, a := range pc.Areas {
			p.Areas[n] = AreaOut{a.Kind.String(), nil, word(a.Name), MM(a.OutFrom), MM(a.OutTo), MM(a.From), MM(a.To)}
			if a.Kind == plan.InterfacingArea {
				p.Areas[n].Layer = word(a.Layer.String())
			}
		}
		for n := range pc.Parts {
			q := &pc.Parts[n]
			o := PartOut{
				Role: q.Role.String(), Kind: q.Kind.String(), Number: int(q.Number), Closure: s.plan.Garment.Closures[q.Closure].Name, Layer: int(q.Layer),
				Centre: pointOut(q.Centre), OutFrom: MM(q.OutFrom), OutTo: MM(q.OutTo), From: MM(q.From), To: MM(q.To), Eye: word(q.Eye.String()),
			}
			if q.Kind == plan.HolePart {
				o.Cut, o.Stitched = ref(q.Cut), ref(q.Stitched)
			}
			p.Parts[n] = o
		}
		out = append(out, p)
	}
	return out
}

func pointOut(p plan.Point) PointOut { return PointOut{MM(p.Out), MM(p.At)} }
