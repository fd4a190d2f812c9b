package measure

import "strings"

// Most lengths are written in one of a few ways: 28 mm, 2.8 cm, 1 3/8 in,
// 40L, 2.4 mm ± 0.2. They are read here in whole numbers, without the general
// reader, which takes thirty times as long. What is written otherwise, or
// wrongly, is left to that.

// plainLength reads the length that s begins with, up to its end or a ±, and
// gives what follows. A number without a unit is in bare.
func plainLength(s string, bare unit) (l Length, u unit, rest string, ok bool) {
	top, bottom := int64(0), int64(1)
	whole, i := digits(s, 0)
	switch {
	case i == 0 || i > 5:
		return
	case i < len(s) && s[i] == '.':
		part, end := digits(s, i+1)
		n := end - i - 1
		if n == 0 || n > 4 {
			return
		}
		for range n {
			bottom *= 10
		}
		top, i = part, end
	case i < len(s) && s[i] == '/':
		var end int
		if bottom, end = digits(s, i+1); bottom == 0 || end > i+4 {
			return
		}
		whole, top, i = 0, whole, end
	case i+1 < len(s) && (s[i] == ' ' || s[i] == '-') && '0' <= s[i+1] && s[i+1] <= '9':
		var slash, end int
		top, slash = digits(s, i+1)
		if slash > i+4 || slash >= len(s) || s[slash] != '/' {
			return
		}
		if bottom, end = digits(s, slash+1); end > slash+4 || top >= bottom {
			return
		}
		i = end
	}
	if u, rest, ok = plainUnit(s[i:], bare); !ok {
		return
	}
	// At most (10^5 · 10^4 + 10^4) · 10^9: it fits.
	nm := (whole*bottom + top) * int64(u.size)
	l = Length(nm / bottom)
	if 2*(nm%bottom) >= bottom {
		l++
	}
	return l, u, rest, true
}

// plainUnit reads the unit behind a number, which stands alone or before a ±.
func plainUnit(s string, bare unit) (u unit, rest string, ok bool) {
	s = strings.TrimLeft(s, " ")
	end := 0
	for end < len(s) && (s[end] == '"' || 'a' <= s[end] && s[end] <= 'z' || s[end] == 'L') {
		end++
	}
	rest = strings.TrimLeft(s[end:], " ")
	if rest != "" && !strings.HasPrefix(rest, "±") {
		return
	}
	switch word := s[:end]; word {
	case "":
		return bare, rest, bare.size != 0
	case "mm":
		return unitMM, rest, true
	case "cm":
		return unitCM, rest, true
	case "in", `"`:
		return unitIn, rest, true
	case "L":
		return unitLigne, rest, true
	default:
		u, ok = units[word]
		return u, rest, ok
	}
}

// plainToleranced reads a length, and the ± after it where there is one. A ±
// without a unit takes the length's; a length without one is left to the
// general reader where there is a ±.
func plainToleranced(s string, bare unit) (t Toleranced, u unit, ok bool) {
	l, u, rest, ok := plainLength(s, bare)
	if !ok || rest == "" {
		return Toleranced{V: l}, u, ok
	}
	if l, u, rest, ok = plainLength(s, unit{}); !ok {
		return
	}
	tol, _, rest, ok := plainLength(strings.TrimLeft(strings.TrimPrefix(rest, "±"), " "), u)
	return Toleranced{l, tol}, u, ok && rest == ""
}

// digits reads the digits of s from i on: their value, and where they end. Of
// more than fit only the end is right.
func digits(s string, i int) (n int64, end int) {
	for end = i; end < len(s) && '0' <= s[end] && s[end] <= '9'; end++ {
		n = n*10 + int64(s[end]-'0')
	}
	return n, end
}
