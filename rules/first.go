package rules

import (
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/source"
)

// MeasureFirst is a reading or an estimate whose two ends decide verdicts.
type MeasureFirst struct {
	Key       string // of the file, as --with takes it
	Set       string // the key that takes what was measured: of an entry of the catalogue, its own in the file
	What      string // the thickness of shell
	Now       measure.Toleranced
	Estimated bool
	Says      string   // the thickness of shell; it decides the needle and the foot
	Rules     []string // whose verdicts it decides, sorted
	Pos       source.Pos
}

// subjects are what rules decide, by the first word of their names, in a
// sewist's words.
var subjects = map[string]string{
	"backing": "the backing button", "band": "the band", "block": "the fit of the block", "button": "how the buttons are sewn on",
	"care": "the care", "edge": "the edge", "ends": "where the fasteners begin and end", "eyelet": "the eyelets", "facing": "the facing",
	"first": "the first fastener", "flap": "the flap", "fly": "the fly", "fold": "the fold", "foot": "the foot", "fuse": "the fusing",
	"gaps": "the gaps", "goods": "the goods", "hardware": "the hardware", "hole": "the holes", "holes": "the holes", "hook": "the hooks",
	"interfacing": "the interfacing", "key": "what the file says", "lap": "the lap", "last": "the last fastener", "loop": "the loops",
	"needle": "the needle", "one": "which way the pieces lie", "order": "the order of work", "parts": "what lies beside it",
	"place": "the thick places", "plaid": "the plaid", "press": "the pressing", "rims": "whether the fasteners touch", "rows": "the rows",
	"safety": "safety", "seam": "the seams", "settled": "what is settled", "shank": "the shank", "shrink": "the shrinkage", "size": "the sizes",
	"snap": "the snaps", "spacing": "the places", "stack": "the bulk of the layers", "stand": "the stand", "stitch": "the stitch", "strip": "the strip",
	"tack": "the tack buttons", "thickness": "the thickness", "thread": "the thread", "toggle": "the toggles", "turn": "the turn of cloth",
	"within": "what only just passes", "work": "how it is worked", "zip": "the zip",
}

// Decides is what a verdict of the rule decides, in a word or two: the needle.
func (r *Rule) Decides() string {
	head, _, _ := strings.Cut(r.Name, "-")
	return subjects[head]
}
