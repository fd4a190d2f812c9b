package work

import (
	"fmt"
	"strings"

	"placketeer/catalog/measure"
	"placketeer/catalog/text"
	"placketeer/rules"
	"placketeer/rules/plan"
)

func (w *working) needle() {
	c, k := w.x.C, w.x.K
	n, t, s := &k.Needle, &k.Thread, &k.Stitch
	if n.NM == 0 {
		return
	}
	says := fmt.Sprintf("%s: %s to %s", n.Cloth(), n.Min, n.Max)
	if p := max(k.Over.Pressed, k.Under.Pressed); p > plan.ThickStack {
		have, most := w.x.ThinApart(p, plan.ThickStack)
		over := have.String() + " thick under the foot, over " + most.String()
		if strings.Contains(have.String(), " over ") { // it says by how much, and over what
			over = have.String() + " thick under the foot"
		}
		says += ", the thicker half since the layers stay " + over
	}
	if n.Given {
		says += fmt.Sprintf("; yours is %s", n.NM)
	} else {
		says += fmt.Sprintf("; %s fits the thread best", n.NM)
	}
	if n.Use != n.NM {
		says += fmt.Sprintf(", which is refused: the work is done with %s", n.Use)
	}
	says += fmt.Sprintf("; thread %s ÷ blade %s = %.2f (0.24 to 0.40 is good); %s point", rules.Blade(t.Diameter.MM(), w.x.U), rules.Blade(n.NM.BladeMM(), w.x.U), n.Ratio, n.Point)
	st := w.say(TopicNeedle, "needle-cloth", "%s", says)
	st.Sources = joined(st.Sources, rules.Find("needle-thread").Sources)
	if !n.Given {
		st.Default = w.set("needle", "the needle")
	}
	if c.Point == "" {
		st.Default = text.Join("; ", st.Default, w.set("point", "its point"))
	}

	says = fmt.Sprintf("%s: Tex %.0f to %.0f for seams and holes, %.0f to %.0f to sew fasteners on, Tex %.0f for top-stitching that shows", n.Cloth(), t.Min.Tex(), t.Max.Tex(), t.ButtonMin.Tex(), t.ButtonMax.Tex(), t.Topstitch.Tex())
	if t.Given {
		says += fmt.Sprintf("; yours, %s, is %s", t.Name, t.Tex.Text())
	} else {
		says += fmt.Sprintf("; take %s %s", t.Tex.Text(), t.Fibre)
	}
	st = w.say(TopicThread, "thread-cloth", "%s", says)
	if !t.Given {
		st.Default = w.set("thread", "the thread")
	}

	says = fmt.Sprintf("%s: %s to %s", n.Cloth(), s.Min.ShortThin(w.x.U), s.Max.ShortThin(w.x.U))
	verb := "take"
	if s.Given {
		verb = "yours is"
	}
	says += "; " + verb + " " + s.Length.TextThin(w.x.U)
	if !w.x.U.IsAlone() || w.x.U.Is(measure.In) {
		says += ", " + trimZero(fmt.Sprintf("%.1f", measure.Inch.MM()/max(s.Length.MM(), 0.01))) + " stitches an inch"
	}
	st = w.say(TopicStitch, "stitch-length", "%s", says)
	if !s.Given {
		st.Default = w.set("stitch", "the stitch length")
	}
}

func trimZero(s string) string { return strings.TrimSuffix(s, ".0") }
