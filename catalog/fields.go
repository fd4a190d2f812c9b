package catalog

import "placketeer/catalog/measure"

// The keys of every table, each with a word of explanation. The reader, the
// JSON Schema, `start` and --with are all made from these.

const mm = measure.Millimetre

var (
	surfaces      = []string{"flat", "napped", "looped", "pile", "coated", "laminated", "quilted"}
	stretches     = []string{"none", "along", "across", "both"}
	shapes        = []string{"flat", "domed", "ball", "square", "toggle", "odd"}
	fasteners     = []string{Button, TackButton, Snap, Rivet, Eyelet, Toggle, Frog, Hook, Zip}
	holeKinds     = []string{"machine", "keyhole", "bound", "hand", "loop"}
	constructions = []string{"folded", "faced", "band", "fly"}
	wheres        = []string{"front", "fly", "pocket", "flap", "cuff", "tab", "collar", "waist", "hood", "vent", "strap"}
	hems          = []string{"waist", "hip", "thigh", "knee", "below", "none"}
	cordPlaces    = []string{"hood", "neck", "waist", "hem", "sleeve"}
	wearers       = []string{"adult", "child", "infant"}
	markets       = []string{"us", "eu"}
	surety        = []string{"read", "second-hand", "derived", "memory", "invented"}
	points        = []string{"universal", "sharp", "ballpoint", "jeans", "leather", "topstitch", "embroidery", "round", "light-ball"}
)

func entryFields(e *Entry) []field {
	return append([]field{
		f("name", &e.Name, "the name that `use` calls it by", required),
		f("about", &e.About, "what it is, in a few words"),
		f("source", &e.Source, "where the figures come from", required),
		f("sure", &e.Sure, "how sure the figures are", oneOf(surety...)),
	}, tradeFields(e)...)
}

// tradeFields are what an order says of a thing.
func tradeFields(e *Entry) []field {
	return []field{
		f("article", &e.Article, "the supplier's number for it"),
		f("supplier", &e.Supplier, "who sells it"),
		f("colour", &e.Colour, "its colour, as the supplier calls it"),
		f("price", &e.Price, "price of one piece; of thread a spool, of interfacing and cord a metre", between(0, 1e5)),
		f("pack", &e.Pack, "pieces in a pack", between(1, 1e5)),
	}
}

// ownNotionFields are the keys of a fastener that a garment file describes.
func ownNotionFields(kind string, n *Notion) []field {
	return append(notionFields(kind, n), tradeFields(&n.Entry)...)
}

// notionFields are the keys a fastener of that kind may have.
func notionFields(kind string, n *Notion) []field {
	small := upTo(120 * mm)
	common := []field{
		f("material", &n.Material, "what it is made of"),
		f("coating", &n.Coating, "its surface", oneOf("painted", "plated", "none")),
		f("nickel", &n.Nickel, "nickel release, µg/cm² a week, from the maker's report", between(0, 1000)),
		f("lead", &n.Lead, "lead, parts per million, from the maker's report", between(0, 1e6)),
		f("pull", &n.Pull, "force it was tested to hold, in newtons", between(0, 5000)),
		f("magnet", &n.Magnet, "whether a magnet holds it shut"),
		f("flux", &n.Flux, "flux index of the magnet, kG² mm², from the maker's report", between(0, 1e5)),
		f("point_sharp", &n.PointSharp, "whether a point or edge can be felt once it is on"),
	}
	diameter := f("diameter", &n.Diameter, "widest way across", small)
	thickness := f("thickness", &n.Thickness, "height without the shank", upTo(60*mm))
	girth := f("girth", &n.Girth, "measured once round the widest part", upTo(400*mm))
	post := f("post", &n.Post, "length of the post or prong", upTo(60*mm))
	postWidth := f("post_width", &n.PostWidth, "width of the post, prong or barrel", upTo(40*mm))
	flange := f("flange", &n.Flange, "diameter of the largest part lying on the cloth", small)
	grip := f("grip", &n.Grip, "the maker's range for the pressed stack", upTo(60*mm), thin)
	hole := f("hole", &n.Hole, "hole to punch in the cloth", upTo(40*mm))
	holes := f("holes", &n.Holes, "sewing holes: 0, 2, 3 or 4", between(0, 8))
	switch kind {
	case Button:
		return append([]field{
			diameter, thickness, girth, holes, flange,
			f("shape", &n.Shape, "its shape", oneOf(shapes...)),
			f("side", &n.Side, "side of a square button", small),
			f("hole_gap", &n.HoleGap, "between the centres of a pair of holes", upTo(30*mm), thin),
			f("hole_size", &n.HoleSize, "width of a sewing hole", upTo(10*mm)),
			f("shank", &n.Shank, "length of a rigid shank", upTo(40*mm)),
			f("length", &n.Length, "end to end, of a toggle-shaped button", upTo(150*mm)),
			f("width", &n.Width, "width, of a toggle-shaped button", small),
			f("short_end", &n.ShortEnd, "from the sewing hole to the nearer end", small),
		}, common...)
	case TackButton:
		return append([]field{
			diameter, f("thickness", &n.Thickness, "height of its head, without the hub under it", upTo(60*mm)),
			girth, post, postWidth, flange, grip, hole,
			f("shape", &n.Shape, "shape of its head, domed where nothing is said", oneOf("domed", "flat")),
			f("head", &n.Head, "diameter of the tack's head underneath", small),
			f("shank", &n.Shank, "length of the neck under the head", upTo(40*mm)),
		}, common...)
	case Snap:
		return append([]field{
			diameter, thickness, post, postWidth, flange, grip, hole, holes,
			f("attach", &n.Attach, "how it is fixed", oneOf("prong", "post", "sewn")),
			f("prongs", &n.Prongs, "number of prongs", between(1, 24)),
			f("spring", &n.Spring, "what holds it shut", oneOf("ring", "s", "plastic", "locking", "magnet")),
			f("caps", &n.Caps, "the caps that its working parts take, by their maker", upTo(60*mm)),
		}, common...)
	case Rivet:
		return append([]field{
			diameter, thickness, post, postWidth, flange, grip, hole,
			f("kind", &n.RivetKind, "kind of rivet", oneOf("semi-tubular", "solid", "double-cap")),
		}, common...)
	case Eyelet:
		return append([]field{
			f("inside", &n.Inside, "width of the opening", small),
			diameter, flange, post, postWidth, grip, hole,
			f("kind", &n.EyeletKind, "kind of eyelet", oneOf("plain", "washer", "spur")),
		}, common...)
	case Toggle:
		return append([]field{
			f("length", &n.Length, "end to end", upTo(150*mm)),
			f("width", &n.Width, "widest way across", small),
			f("short_end", &n.ShortEnd, "from the sewing hole to the nearer end", small),
			thickness, girth, holes, diameter,
			f("section", &n.Section, "its shape seen end on", oneOf("oval", "box")),
			f("hole_gap", &n.HoleGap, "between the centres of a pair of holes", upTo(60*mm), thin),
			f("hole_size", &n.HoleSize, "width of a sewing hole", upTo(10*mm)),
		}, common...)
	case Frog:
		return append([]field{
			f("knot", &n.Knot, "diameter of the knot", small),
			f("cord", &n.Cord, "thickness of the cord", upTo(20*mm)),
			f("length", &n.Length, "how far it reaches across the front", upTo(400*mm)),
			girth,
		}, common...)
	case Hook:
		return append([]field{
			f("length", &n.Length, "length", small), f("width", &n.Width, "width", small),
			f("kind", &n.HookKind, "kind of hook", oneOf("hook-and-eye", "hook-and-bar", "coat-hook")),
			f("number", &n.Number, "the maker's number", between(0, 100)), thickness,
			f("pitch", &n.Pitch, "of a hook tape, from hook to hook", small),
			f("eye_pitch", &n.EyePitch, "of the eye tape that meets it", small),
		}, common...)
	case Zip:
		return append([]field{
			f("number", &n.Number, "size number", between(1, 30)),
			f("chain", &n.Chain, "width across the closed teeth", upTo(40*mm)),
			f("chain_thickness", &n.ChainThickness, "thickness of the closed teeth", upTo(20*mm)),
			f("kind", &n.ZipKind, "kind of teeth", oneOf("coil", "moulded", "metal")),
			f("opening", &n.Opening, "how it ends", oneOf("separating", "two-way", "closed")),
			f("lengths", &n.Lengths, "lengths it is sold in", upTo(3000*mm)),
			f("tape", &n.Tape, "width of one tape", upTo(80*mm)),
			f("slider", &n.Slider, "width of the slider's mouth", upTo(40*mm)),
		}, common...)
	}
	return nil
}

func clothFields(c *Cloth, fibres, families []string) []field {
	return []field{
		f("kind", &c.Kind, "family of the cloth", oneOf(families...)),
		f("weight", &c.Weight, "weight, like \"620 g/m2\""),
		f("thickness", &c.Thickness, "measured thickness of one layer", upTo(50*mm), thin),
		f("density", &c.Density, "bulk density, g/cm³", between(0.005, 3)),
		f("spread", &c.Spread, "± percent of an estimated thickness", between(0, 95)),
		f("pressed", &c.Pressed, "share of the thickness left under the foot", between(0.05, 1)),
		f("fibre", &c.Fibre, "percents of each fibre", oneOf(fibres...)),
		f("surface", &c.Surface, "its face", oneOf(surfaces...)),
		f("weave", &c.Weave, "how it is made"),
		f("frays", &c.Frays, "whether a cut edge frays"),
		f("stretch", &c.Stretch, "which way it stretches", oneOf(stretches...)),
		f("holds_press", &c.Presses, "whether a fold stays pressed"),
		f("width", &c.Width, "width of the goods"),
		f("shrink", &c.Shrink, "shrinkage, percent", between(0, 40)),
		f("repeat", subTable{
			f("along", &c.Repeat.Along, "repeat along the length", upTo(1000*mm)),
			f("across", &c.Repeat.Across, "repeat across the width", upTo(1000*mm)),
			f("even", &c.Repeat.Even, "the same read both ways"),
			f("pieces", &c.Repeat.Pieces, "large pieces cut from it", between(1, 60)),
			f("stacked", &c.Repeat.Stacked, "pieces lying one below another in the layout", between(1, 60)),
			f("yardage", &c.Repeat.Yardage, "cloth the pattern asks for without matching"),
		}, "repeat of a plaid or stripe"),
	}
}

func interfacingFields(c *Interfacing, fibres []string) []field {
	return []field{
		f("kind", &c.Kind, "how it is made"),
		f("weight", &c.Weight, "weight, like \"80 g/m2\""),
		f("thickness", &c.Thickness, "thickness of one layer", upTo(20*mm), thin),
		f("density", &c.Density, "bulk density, g/cm³", between(0.005, 3)),
		f("pressed", &c.Pressed, "share of the thickness left under the foot", between(0.05, 1)),
		f("fixing", &c.Fixing, "how it is fixed", oneOf("fusible", "sewn")),
		f("fuse", &c.Fuse, "heat the resin needs, like \"135 C\""),
		f("resin", &c.Resin, "the resin"),
		f("width", &c.Width, "width of the goods"),
		f("shrink", &c.Shrink, "shrinkage, percent", between(0, 40)),
		f("stretch", &c.Stretch, "which way it stretches", oneOf(stretches...)),
		f("fibre", &c.Fibre, "percents of each fibre", oneOf(fibres...)),
	}
}

func threadFields(t *Thread) []field {
	return []field{
		f("tex", &t.Tex, "size, like \"Tex 40\" or \"Tkt 75\""),
		f("fibre", &t.Fibre, "its fibre"),
		f("build", &t.Build, "how it is made"),
		f("jobs", &t.Jobs, "what it is for", oneOf("seam", "topstitch", "buttonhole", "button", "gimp", "hand")),
		f("needle_min", &t.NeedleMin, "the maker's smallest needle"),
		f("needle_max", &t.NeedleMax, "the maker's largest needle"),
		f("metres", &t.Metres, "metres on the spool", between(1, 1e5)),
	}
}

func needleFields(n *Needle) []field {
	return []field{
		f("size", &n.Size, "size, like \"90/14\""),
		f("point", &n.Point, "its point", oneOf(points...)),
		f("system", &n.System, "needle system"),
		f("eye", &n.Eye, "width of the eye", upTo(3*mm), thin),
		f("jobs", &n.Jobs, "what it is for"),
	}
}

func machineFields(m *Machine) []field {
	return []field{
		f("kind", &m.Kind, "kind of machine", oneOf("household", "straight-stitch", "industrial", "walking-foot")),
		f("foot_lift", &m.FootLift, "room under the lifted foot", upTo(40*mm), thin),
		f("foot_lift_extra", &m.FootLiftExtra, "the same with the extra lift or the knee lift", upTo(40*mm), thin),
		f("sewing_max", &m.SewingMax, "greatest thickness it sews", upTo(40*mm), thin),
		f("buttonhole_max", &m.ButtonholeMax, "longest automatic buttonhole", upTo(120*mm)),
		f("buttonhole_sizes", &m.ButtonholeSizes, "the only lengths an attachment sews", upTo(120*mm)),
		f("keyhole_sizes", &m.KeyholeSizes, "the only keyhole lengths an attachment sews", upTo(120*mm)),
		f("keyhole", &m.Keyhole, "whether it sews keyholes"),
		f("swing", &m.Swing, "how far the needle swings when it sews a button on", upTo(20*mm), thin),
		f("stitch_max", &m.StitchMax, "longest stitch", upTo(15*mm), thin),
		f("needle_max", &m.NeedleMax, "thickest needle it takes"),
		f("thread_min_number", &m.ThreadMinNumber, "smallest thread number it takes, below which it jams", between(0, 200)),
		f("underplate", &m.Underplate, "whether the buttonhole foot has a plate under the cloth"),
	}
}

func familyFields(x *Family) []field {
	return []field{
		f("density", &x.Density, "bulk density, g/cm³", between(0.005, 3)),
		f("spread", &x.Spread, "± percent of the estimate", between(0, 200)),
		f("pressed", &x.Pressed, "share left under the foot", between(0.05, 1)),
		f("low", &x.Low, "lower end of the density bracket", between(0.005, 3)),
		f("high", &x.High, "upper end of the density bracket", between(0.005, 3)),
	}
}

func fibreFields(x *Fibre) []field {
	return []field{
		f("density", &x.Density, "density, g/cm³", between(0.5, 4)),
		f("iron", &x.Iron, "ironing limit by the care symbol"),
		f("iron_other", &x.IronOther, "another published limit"),
	}
}

func cordPartFields(x *CordPart) []field {
	return []field{
		f("thickness", &x.Thickness, "thickness", upTo(30*mm)),
		f("diameter", &x.Diameter, "diameter", upTo(60*mm)),
		f("material", &x.Material, "what it is made of"),
	}
}

// closureFields are the keys of [[closure]]; layers, use and notion are
// resolved after it is read.
func closureFields(c *Closure, raw *rawClosure) []field {
	s, run := &c.Stand, &c.Run
	return []field{
		f("name", &c.Name, "what you call it: front, cuff, flap", required),
		f("where", &c.Where, "what it is on", oneOf(wheres...)),
		f("fastener", &c.Fastener, "kind of fastener", oneOf(fasteners...)),
		f("use", &c.Use, "a fastener of the catalogue"),
		f("notion", rawTable{&raw.notion}, "a fastener described here"),
		f("hole", &c.Hole, "kind of buttonhole", oneOf(holeKinds...)),
		f("hole_rule", &c.Rule, "which rule gives the hole's length", oneOf(HoleRules...)),
		f("hole_centred", &c.Centred, "of a hole along the edge: its middle lies at the button, not its upper end"),
		f("direction", &c.Direction, "across or along the edge", oneOf("across", "along")),
		f("lap", &c.Lap, "how the two sides meet", oneOf("single", "double", "edge")),
		f("lap_over", &c.LapOver, "which side of the wearer lies on top", oneOf("right", "left")),
		f("opening", &c.Opening, "the opening it closes: closures that close one together share this name"),
		f("behind", &c.Behind, "a closure of the same opening: this one lies in the layer behind it"),
		f("over", &raw.over, "layers the hole is sewn through, outside first", filled, atMost(MaxLayers)),
		f("under", &raw.under, "layers the fastener is set on, outside first", filled, atMost(MaxLayers)),
		f("needle", &c.Needle, "needle you mean to use"),
		f("point", &c.Point, "its point", oneOf(points...)),
		f("thread", &c.Thread, "a thread of the garment"),
		f("hole_length", &c.HoleLen, "length of the cut you mean to make", upTo(200*mm)),
		f("loop", &c.Loop, "length inside a loop", upTo(400*mm)),
		f("inset", &c.Inset, "of a toggle or frog: meeting line to where its cord and its loop are sewn on, inside, on both sides", upTo(400*mm), orZero),
		f("punch", &c.PunchHole, "hole you mean to punch", upTo(40*mm)),
		f("stitch", &c.Stitch, "stitch length you mean to use", upTo(15*mm), thin),
		f("pieces", &c.Pieces, "how many such pieces the garment has", between(1, 100)),
		f("spare", &c.Spare, "spares to buy", between(0, 1000)),
		f("when", &c.When, "when its holes and hardware are made", oneOf("before-joining", "after-joining")),
		f("set_with", &c.Set, "how hardware is set", oneOf("press", "pliers", "hand-tool", "machine")),
		f("backing", &c.Backing, "diameter of the backing button", upTo(60*mm)),
		f("reinforced", &c.Reinforce, "whether the cloth under it is reinforced"),
		f("hole_finish", &c.Finish, "how the cut edge of the hole is kept from fraying", oneOf("overcast", "sealed", "twice", "corded")),
		f("turn", &c.Turn, "how much larger the upper layer is cut, for the turn of the cloth", upTo(100*mm), orZero),
		f("zip_length", &c.ZipLength, "length of zip you mean to buy", upTo(3000*mm)),
		f("sewn_by", &c.SewnBy, "how a sewn fastener is sewn on", oneOf("hand", "machine")),
		f("thread_shank", &c.ThreadShank, "length of the thread shank you mean to wind", upTo(40*mm), orZero, thin),
		f("button_thread", &c.ButtonThread, "a thread of the garment, for sewing the fastener on"),
		f("button_stitches", &c.ButtonStitches, "stitches you mean to sew a button on with", between(1, 200)),
		f("edge", &c.Edge, "centre of the fastener to the nearest finished edge; of a hook, its end", upTo(400*mm)),
		f("into", &c.Into, "what hardware is set into", oneOf("cloth", "webbing", "leather", "rigid")),
		f("thickness_step", &c.ThicknessStep, "how much the thickness changes under one fastener that straddles a seam", upTo(40*mm), orZero, thin),
		f("packing", &c.Packing, "washers or a patch added to fill the hardware's grip", upTo(40*mm), orZero, thin),
		f("quick_opening", &c.QuickOpening, "whether it must open at once"),
		f("cord", &c.Cord, "thickness of the loop's cord, or of the cord through an eyelet", upTo(40*mm)),
		f("stand", subTable{
			f("construction", &s.Construction, "how the edge is made", oneOf(constructions...)),
			f("extension", &s.Extension, "centre line to cut edge, as drafted", upTo(600*mm)),
			f("finished", &s.Finished, "centre line to finished edge", upTo(400*mm)),
			f("turn_under", &s.TurnUnder, "turned under at the inside edge", upTo(100*mm), orZero),
			f("seam", &s.Seam, "seam allowance", upTo(100*mm), orZero),
			f("facing", &s.Facing, "how far the facing reaches inside the centre line", upTo(600*mm)),
			f("band", &s.Band, "finished width of the band", upTo(800*mm)),
			f("strip", &s.Strip, "width of the interfacing strip you mean to cut", upTo(600*mm)),
			f("strip_from_edge", &s.StripFromEdge, "where it begins, from the cut edge", upTo(600*mm), orZero),
			f("strips", each(&s.Strips, func(_ int, x *Strip) []field {
				return []field{
					f("name", &x.Name, "an interfacing of this closure", required),
					f("width", &x.Width, "width of its strip", upTo(600*mm)),
					f("from_edge", &x.FromEdge, "where it begins, from the cut edge", upTo(600*mm), orZero),
				}
			}), "of a second interfacing in the same layers: how it is cut and where it lies", atMost(MaxLayers)),
			f("tuck", &s.Tuck, "of a folded band: finished with a tuck, stitched this far from its fold", upTo(60*mm)),
			f("concealed", &s.Concealed, "of a folded band: cut with one more fold, which hides the holes"),
			f("topstitch", &s.TopstitchInset, "top-stitching from the finished edge", upTo(100*mm)),
		}, "how the edge that carries it is made"),
		f("flap", subTable{
			f("width", &c.Flap.Width, "meeting line to its finished edge", upTo(400*mm), required),
			f("inset", &c.Flap.Inset, "meeting line to the line of its fasteners", upTo(400*mm)),
		}, "a flap of its own over the opening"),
		f("measured", subTable{
			f("stack", &c.Sample.Stack, "all layers of over, lying free, measured together", upTo(200*mm), thin),
			f("stack_under", &c.Sample.StackUnder, "all layers of under, lying free, measured together", upTo(200*mm), thin),
			f("stack_pressed", &c.Sample.StackPressed, "all layers of over, pressed as the foot or the die presses them", upTo(200*mm), thin),
			f("hole_length", &c.Sample.HoleLength, "the cut that the real fastener went through; a hole_length of the closure is checked against it", upTo(200*mm)),
		}, "what a sewn sample taught: it wins over every formula"),
		f("run", subTable{
			f("length", &run.Length, "neck edge to hem along the closure"),
			f("first", window{&run.First, &run.FirstMax}, "top to the first centre", orZero),
			f("last", window{&run.Last, &run.LastMax}, "last centre to the end", orZero),
			f("count", &run.Count, "how many"),
			f("gap", subTable{
				f("min", &run.GapMin, "smallest gap", atLeast(mm)), f("max", &run.GapMax, "largest gap", atLeast(mm)),
				f("about", &run.GapAbout, "gap wished for where the count is open", atLeast(mm)),
			}, "limits of the gaps"),
			f("step", &run.Step, "what can be marked", atLeast(mm/10), upTo(100*mm)),
			f("anchor", each(&run.Anchors, func(_ int, a *Anchor) []field {
				return []field{
					f("name", &a.Name, "what it is", required),
					f("at", &a.At, "from the top", required),
					f("within", &a.Within, "how near a fastener must lie", orZero),
				}
			}), "a place that wants a fastener near it", atMost(MaxMarks)),
			f("clear", each(&run.Clears, func(_ int, c *Clear) []field {
				return []field{
					f("name", &c.Name, "what it is", required),
					f("from", &c.From, "where it begins, from the top", orZero),
					f("to", &c.To, "where it ends"),
					f("at", &c.At, "a single line instead, such as a seam"),
					f("pressed", &c.Pressed, "a seam that crosses: how its allowances lie", oneOf("open", "one-side")),
				}
			}), "a stretch that stays free of fasteners", atMost(MaxMarks)),
			f("hem", &run.Hem, "hem turned up at the end of the run: it stays free of fasteners"),
			f("hem_under", &run.HemUnder, "raw edge of that hem turned in", upTo(100*mm), orZero),
			f("match", &run.Match, "cloth whose repeat the gaps keep"),
			f("phase", &run.Phase, "where in that repeat every fastener lies, from the top", orZero, upTo(1000*mm)),
			f("group", &run.Group, "fasteners set in pairs (2) or threes (3)", between(1, 3)),
			f("group_gap", &run.GroupGap, "gap inside a group", upTo(300*mm)),
		}, "the line they stand on"),
		f("rows", subTable{
			f("distance", &c.Rows.Distance, "each column to the centre line", upTo(400*mm)),
			f("top", &c.Rows.Top, "the same at the top row", upTo(400*mm)),
			f("bottom", &c.Rows.Bottom, "the same at the bottom row", upTo(400*mm)),
			f("row", rowList{&c.Rows.Own}, "single rows with a distance of their own: { row = 1, distance = \"4 in\" }"),
			f("working", &c.Rows.Working, "rows that really button", between(1, 100)),
			f("inner", &c.Rows.Inner, "whether an inner button holds the under front, level with the top row that buttons"),
			f("show_holes", &c.Rows.ShowHoles, "whether the rows for show have a hole that is sewn and not cut"),
		}, "the two columns of a double-breasted front"),
		f("check", subTable{
			f("cloth", &c.Check.Cloth, "the plaid cloth"),
			f("over", &c.Check.Over, "upper front: a stripe to the centre line, towards the wearer's left; negative to the right", signed, upTo(1000*mm)),
			f("under", &c.Check.Under, "under front: the same", signed, upTo(1000*mm)),
			f("over_along", &c.Check.OverAlong, "upper front: a stripe below the neck edge", signed, upTo(1000*mm)),
			f("under_along", &c.Check.UnderAlng, "under front: the same", signed, upTo(1000*mm)),
			f("cut", &c.Check.Cut, "how the two fronts are cut", oneOf("mirror", "same")),
			f("band", &c.Check.Band, "how a separate band, flap or tab follows the plaid", oneOf("matched", "bias")),
		}, "where the stripes of a plaid lie on the two fronts"),
	}
}

// HoleRules are the rules a garment may name for the length of a hole.
var HoleRules = []string{"passing", "plus-eighth", "plus-thickness-eighth", "percent", "diameter"}

func cordFields(i int, c *GarmentCord) []field {
	c.Index = i
	return []field{
		f("name", &c.Name, "what you call it", required),
		f("use", &c.Use, "a cord of the catalogue"),
		f("at", &c.At, "where it runs", oneOf(cordPlaces...), required),
		f("free_end", &c.FreeEnd, "free end outside the channel, garment open flat", upTo(2000*mm), orZero),
		f("drawn_in", &c.DrawnIn, "free end outside the channel, garment drawn in to fit", upTo(2000*mm), orZero),
		f("loop", &c.Loop, "length round a loop", upTo(2000*mm), orZero),
		f("ends", &c.Ends, "what is at the free ends", oneOf("plain", "knot", "toggle", "lock", "none")),
		f("tacked", &c.Tacked, "stitched down midway"),
		f("instead", &c.Instead, "what closes there in its place: the cord is left out", oneOf("elastic", "snaps", "none")),
		f("one_piece", &c.OnePiece, "one length of cord"),
		f("thickness", &c.Part.Thickness, "thickness of the cord", upTo(30*mm)),
	}
}
