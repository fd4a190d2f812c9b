package measure

import (
	"strconv"
	"testing"
)

// Published button tables, in lignes and millimetres or inches.
//
//	A  a button maker, "How to calculate button size by ligne"
//	B  a menswear shop, "Button size chart: converting ligne to metric"
//	C  a notions shop, "A bit about buttons"
//	E  a button shop, "Choosing buttons and making buttonholes" (2012)
var buttonTables = []struct {
	ligne        float64
	a, b, c, e   float64 // mm, 0 if not listed
	inchA, inchC string
}{
	{12, 7.5, 8, 0, 0, "5/16", ""},
	{14, 9, 9, 0, 9.2, "11/32", ""},
	{15, 9.5, 0, 0, 0, "3/8", ""},
	{16, 10, 10, 0, 10.5, "13/32", ""},
	{17, 10.5, 0, 0, 0, "7/16", ""},
	{18, 11.5, 11, 11.5, 11.6, "15/32", "7/16"},
	{20, 12.5, 12, 12, 12.5, "1/2", "1/2"},
	{22, 14, 14, 0, 14.2, "9/16", ""},
	{24, 15, 15, 15, 15.0, "5/8", "5/8"},
	{26, 16, 0, 0, 0, "21/32", ""},
	{27, 0, 0, 0, 16.8, "", ""},
	{28, 18, 18, 0, 17.8, "23/32", ""},
	{30, 19, 19, 19, 19.0, "3/4", "3/4"},
	{32, 20, 20, 20, 20.5, "13/16", "13/16"},
	{34, 21.5, 21, 21, 21.5, "27/32", "7/8"},
	{36, 23, 23, 23, 22.9, "7/8", "15/16"},
	{38, 24, 24, 0, 0, "15/16", ""},
	{40, 25, 25, 25, 25.5, "1", "1"},
	{44, 28, 0, 0, 0, "1 3/32", ""},
	{45, 0, 0, 28.5, 0, "", "1 1/8"}, // A is a misprint: TestLigneMisprints
	{48, 30, 30, 0, 0, "1 3/16", ""},
	{54, 34, 0, 0, 0, "1 5/16", ""},
	{60, 38, 0, 0, 0, "1 1/2", ""},
	{64, 40, 0, 0, 0, "1 9/16", ""},
}

// ligneRounding is a little over the widest rounding of the tables: 0.70 mm,
// of 20 L listed as 12 mm.
const ligneRounding = 0.75

func TestLigneTables(t *testing.T) {
	for _, row := range buttonTables {
		text := strconv.FormatFloat(row.ligne, 'f', -1, 64) + "L"
		l, err := ParseLength(text, NoUnit)
		if err != nil {
			t.Fatal(err)
		}
		for table, mm := range map[string]float64{"A": row.a, "B": row.b, "C": row.c, "E": row.e} {
			if mm == 0 {
				continue
			}
			if !near(l.MM(), mm, ligneRounding) {
				t.Errorf("%s is %v, table %s prints %v mm", text, l, table, mm)
			}
		}
		for table, inches := range map[string]string{"A": row.inchA, "C": row.inchC} {
			if inches == "" {
				continue
			}
			// The inch columns are rougher: 54 L is 1.35 in and printed as
			// 1 5/16.
			in, err := ParseLength(inches, In)
			if err != nil || (l-in).Abs() > Inch/25 {
				t.Errorf("%s is %v, table %s prints %s in, %v", text, l, table, inches, err)
			}
		}
	}
}

// Table A prints 45 L as 30 mm and 1 3/16 in; it is 28.575 mm, 1 1/8 in.
func TestLigneMisprints(t *testing.T) {
	for _, c := range []struct {
		text string
		not  Length
	}{
		{"45L", 30 * Millimetre}, {"45 ligne", Inch + 3*Inch/16},
		// Nor is the button line the French line of 2.2558 mm or the line of
		// 1/12 in; Sizes, Inc., "Buttons", warns of both.
		{"40L", FromMM(40 * 2.2558)}, {"40L", 40 * Inch / 12},
	} {
		if l, err := ParseLength(c.text, NoUnit); err != nil || near(l.MM(), c.not.MM(), ligneRounding) {
			t.Errorf("%s is taken for %v: %v, %v", c.text, c.not, l, err)
		}
	}
}

func TestLigneExact(t *testing.T) {
	for _, tt := range []struct {
		text   string
		want   Length
		source string
	}{
		{"1 line", Inch / 40, "Federal Specification V-B-871F; MIL-B-20289D"},
		{"40 line", Inch, "Federal Specification V-B-871F; Sizes, Inc., Buttons"},
		{"20 L", Inch / 2, "Sizes, Inc., Buttons"},
		{"16 L", 10_160_000, "a button maker, product portfolio: 10.16 mm"},
		{"32 L", 20_320_000, "a button maker, product portfolio: 20.32 mm"},
		{"12 L", 7_620_000, "a button maker, Button engineering: 7.62 mm"},
		{"10 L", Inch / 4, "a uniform-trimmings maker, Button size conversions"},
		{"45 L", 28_575_000, "the line of 1/40 in"},
	} {
		if got, err := ParseLength(tt.text, NoUnit); got != tt.want || err != nil {
			t.Errorf("%s is %v, %v; %s: %v", tt.text, got, err, tt.source, tt.want)
		}
	}
	// 36 L is 29/32 in to the nearest 1/32, and the tables' 7/8 and 15/16 are
	// each 1/40 in or more off. 34 L is 7/8 in to 1/16 and 27/32 to 1/32, as
	// tables C and A print it.
	if got := (36 * Ligne).RoundNearest(Inch / 32); got != 29*Inch/32 {
		t.Errorf("36 L is %v to the nearest 1/32 in", got)
	}
	if c, a := (34 * Ligne).RoundNearest(Inch/16), (34 * Ligne).RoundNearest(Inch/32); c != 7*Inch/8 || a != 27*Inch/32 {
		t.Errorf("34 L is %v and %v", c, a)
	}
	if got := Inch.Lignes(); got != 40 {
		t.Errorf("an inch is %v lignes", got)
	}
}
