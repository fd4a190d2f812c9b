package spacing

import "math/bits"

// ceilDiv and floorDiv divide by a positive b, rounding up and down.
func ceilDiv[T ~int64](a, b T) T { return -floorDiv(-a, b) }

func floorDiv[T ~int64](a, b T) T {
	q := a / b
	if a%b < 0 {
		q--
	}
	return q
}

// mod is the remainder from 0 to b-1.
func mod(a, b int64) int64 { return a - b*floorDiv(a, b) }

func abs(a int64) int64 { return max(a, -a) }

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// inverse gives x with a·x ≡ 1 modulo m, for a and m without a common factor.
func inverse(a, m int64) int64 {
	r0, r1, x0, x1 := m, mod(a, m), int64(0), int64(1)
	for r1 > 0 {
		q := r0 / r1
		r0, r1 = r1, r0-q*r1
		x0, x1 = x1, x0-q*x1
	}
	return mod(x0, m)
}

// mulMod is a·b modulo m for a and b from 0 to m-1.
func mulMod(a, b, m int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	return int64(bits.Rem64(hi, lo, uint64(m)))
}

// wide is a whole number of 128 bits: a thousand squares of a thousand times
// the longest run need 104.
type wide struct{ hi, lo uint64 }

func square(a int64) wide {
	u := uint64(abs(a))
	hi, lo := bits.Mul64(u, u)
	return wide{hi, lo}
}

func (a wide) plus(b wide) wide {
	lo, carry := bits.Add64(a.lo, b.lo, 0)
	hi, _ := bits.Add64(a.hi, b.hi, carry)
	return wide{hi, lo}
}

func (a wide) less(b wide) bool {
	return a.hi < b.hi || a.hi == b.hi && a.lo < b.lo
}

// mulDiv is (a·b + c) / d rounded down, for numbers of at least 0 whose result
// fits.
func mulDiv(a, b, c, d int64) int64 {
	hi, lo := bits.Mul64(uint64(a), uint64(b))
	lo, carry := bits.Add64(lo, uint64(c), 0)
	q, _ := bits.Div64(hi+carry, lo, uint64(d))
	return int64(q)
}
