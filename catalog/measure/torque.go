package measure

import "strings"

// Torque is a turning force in newton metres, as a test of small parts
// applies it.
type Torque float64

// InchPound is one inch pound-force in newton metres, exactly.
const InchPound Torque = 0.1129848290276167

// NM gives t in newton metres.
func (t Torque) NM() float64 { return float64(t) }

// InLbf gives t in inch pounds-force.
func (t Torque) InLbf() float64 { return float64(t / InchPound) }

// ParseTorque reads a torque up to 100 N·m: 0.34 N·m, 2 in-lbf. Nm without
// the dot is refused: it is the metric count of a thread. The error is a
// *ParseError.
func ParseTorque(s string) (Torque, error) {
	p := scanner{s: s}
	n, err := p.start("a torque")
	if err != nil {
		return 0, err.in(s)
	}
	p.spaces()
	at, head := p.i, s[n.at:n.end]
	t := Torque(n.float())
	switch strings.ToLower(p.rest()) {
	case "n·m", "n*m", "n m", "n.m", "newton metre", "newton metres":
	case "in-lbf", "in lbf", "in·lbf", "lbf-in", "lbf·in", "inch-pound", "inch-pounds":
		t *= InchPound
	case "":
		return 0, fail(n.end, either(head+" N·m", head+" in-lbf"), "the number has no unit").in(s)
	default:
		return 0, fail(at, either(head+" N·m", head+" in-lbf"), "torques are in N·m or in-lbf, not %s", quote(p.rest())).in(s)
	}
	if t > 100 {
		return 0, fail(n.at, "", "this is out of range: the strongest is 100 N·m").in(s)
	}
	return t, nil
}
