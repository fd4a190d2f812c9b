package measure

import (
	"errors"
	"testing"
)

func TestParseLength(t *testing.T) {
	tests := []struct {
		text string
		bare Unit
		want Length
		unit Unit
	}{
		{"28 mm", NoUnit, 28 * Millimetre, MM},
		{"28mm", In, 28 * Millimetre, MM},
		{"2.8 cm", NoUnit, 28 * Millimetre, MM},
		{"0.6 m", NoUnit, 600 * Millimetre, MM},
		{"1 1/8 in", NoUnit, 9 * Inch / 8, In},
		{`1-1/8"`, NoUnit, 9 * Inch / 8, In},
		{"1⅛ in", NoUnit, 9 * Inch / 8, In},
		{"1.125 inch", NoUnit, 9 * Inch / 8, In},
		{"2 ft 3 in", NoUnit, 27 * Inch, In},
		{"1/2 yd", NoUnit, 18 * Inch, In},
		{"40L", NoUnit, Inch, MM},
		{"40 ligne", NoUnit, Inch, MM},
		{"24", In, 24 * Inch, In},
		{"24", MM, 24 * Millimetre, MM},
	}
	for _, tt := range tests {
		got, unit, err := ParseLengthUnit(tt.text, tt.bare)
		if err != nil || got != tt.want || unit != tt.unit {
			t.Errorf("ParseLengthUnit(%q, %v) = %v, %v, %v; want %v, %v", tt.text, tt.bare, got, unit, err, tt.want, tt.unit)
		}
	}
}

func TestParseLengthError(t *testing.T) {
	_, err := ParseLength("2,5 mm", MM)
	var e *ParseError
	if !errors.As(err, &e) || e.Offset != 1 || e.Instead != "2.5 mm" {
		t.Errorf("ParseLength(2,5 mm): %#v", e)
	}
}
