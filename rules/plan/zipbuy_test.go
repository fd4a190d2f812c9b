package plan

import (
	"testing"

	"placketeer/catalog/measure"
)

// One length to buy and one amount to take off: never below the opening, and
// nothing for what is within a pitch or two of it.
func TestZipBuy(t *testing.T) {
	sold := []measure.Length{457 * mm, 508 * mm, 559 * mm}
	for _, c := range []struct {
		need, length measure.Length
		listed       bool
		buy, off     measure.Length
	}{
		{507 * mm, 500 * mm, false, 508 * mm, 0},       // asked too short: the next that passes, as it is
		{487 * mm, 500 * mm, false, 508 * mm, 21 * mm}, // asked longer than the opening: one figure, not 8 and 13
		{507 * mm, 508 * mm, true, 508 * mm, 0},        // 1 mm over: left as it is
		{500 * mm, 559 * mm, true, 559 * mm, 59 * mm},  //
		{0, 500 * mm, false, 508 * mm, 8 * mm},         // no run: what the file says
		{505 * mm, 508 * mm, true, 508 * mm, 3 * mm},   //
	} {
		s := ZipSize{Need: c.need, Length: c.length, Given: true, Listed: c.listed}
		if s.buy(sold); s.Buy != c.buy || s.Shorten != c.off {
			t.Errorf("opening %v, asked %v: buy %v and take %v off, want %v and %v", c.need, c.length, s.Buy, s.Shorten, c.buy, c.off)
		}
	}
}
