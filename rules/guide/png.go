package guide

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"image"
	"image/draw"
	"image/png"
	"math"
	"slices"

	"golang.org/x/image/vector"
)

const (
	stripRows   = 1024 // dots filled at once, so that a long slanting line needs little room
	leastRaster = 513  // of what vector fills in floats; its integers let steep lines drift
	maxPixels   = 100_000_000
)

// pngOf draws a picture, grey, at so many dots an inch.
func pngOf(l *list, w, h float64, dpi int) ([]byte, error) {
	perMM := float64(dpi) / 25.4
	wide, high := int(math.Ceil(w*perMM)), int(math.Ceil(h*perMM))
	if wide*high > maxPixels {
		return nil, fmt.Errorf("at %d dots an inch the picture has %d × %d dots, more than %d million: draw one size or one closure, or take fewer dots", dpi, wide, high, maxPixels/1_000_000)
	}
	p := painter{perMM: perMM, picture: image.NewGray(image.Rect(0, 0, wide, high)), faces: l.faces}
	for i := range p.picture.Pix {
		p.picture.Pix[i] = 0xff
	}
	for n := range l.items {
		p.item(&l.items[n])
	}
	var out bytes.Buffer
	if err := png.Encode(&out, p.picture); err != nil {
		return nil, fmt.Errorf("write the PNG: %w", err)
	}
	return withDots(out.Bytes(), dpi), nil
}

// painter draws on a picture.
type painter struct {
	perMM   float64
	picture *image.Gray
	faces   *faces
	raster  vector.Rasterizer
	mask    image.Alpha // of one strip; its room is used again
}

func (p *painter) item(i *item) {
	c := i.pts[0]
	if i.pen == nil {
		var loops [][]pt
		along := 0.0
		for _, r := range i.text {
			l := letter{r, i.bold}
			for _, loop := range p.faces.outline(l) {
				out := make([]pt, len(loop))
				for n, q := range loop {
					x, y := (along+q.x)*i.size, q.y*i.size
					if i.up {
						x, y = y, -x
					}
					out[n] = p.dot(pt{c.x + x, c.y + y})
				}
				loops = append(loops, out)
			}
			along += p.faces.glyph(l).wide
		}
		p.fill(loops, i.grey)
		return
	}
	half := i.pen.width * p.perMM / 2
	if r := i.r * p.perMM; r > half && len(i.pen.dash) == 0 && !i.pen.fill {
		// a ring: the inner circle turns the other way
		inner := round(p.dot(c), r-half)
		slices.Reverse(inner)
		p.fill([][]pt{round(p.dot(c), r+half), inner}, i.pen.grey)
		return
	}
	line, loop := make([]pt, 0, len(i.pts)+1), i.loop
	for _, q := range i.pts {
		line = append(line, p.dot(q))
	}
	if i.r > 0 {
		line, loop = round(p.dot(c), i.r*p.perMM), true
	}
	if i.pen.fill {
		p.fill([][]pt{line}, i.pen.grey)
		return
	}
	if loop {
		line = append(line, line[0])
	}
	lines := [][]pt{line}
	if len(i.pen.dash) > 0 {
		lines, loop = dashed(line, i.pen.dash, p.perMM), false
	}
	var areas [][]pt
	for _, l := range lines {
		areas = stroked(areas, l, half, loop)
	}
	p.fill(areas, i.pen.grey)
}

// dot is a place in dots.
func (p *painter) dot(q pt) pt { return pt{q.x * p.perMM, q.y * p.perMM} }

// round is a circle as a polygon that misses it by less than a twentieth of
// a dot.
func round(c pt, r float64) []pt {
	n := max(12, math.Ceil(math.Pi/math.Acos(1-min(0.05/r, 1))))
	var pts []pt
	for i := range int(n) {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / n)
		pts = append(pts, pt{c.x + r*cos, c.y + r*sin})
	}
	return pts
}

// dashed cuts a line into its dashes.
func dashed(line []pt, pattern []float64, scale float64) [][]pt {
	var out [][]pt
	dash := []pt{line[0]}
	n, left := 0, pattern[0]*scale // which of the pattern, and how much of it is to come
	for i, b := range line[1:] {
		a := line[i]
		for {
			long := math.Hypot(b.x-a.x, b.y-a.y)
			if long <= left {
				left -= long
				break
			}
			a = pt{a.x + (b.x-a.x)*left/long, a.y + (b.y-a.y)*left/long}
			if n%2 == 0 {
				out = append(out, append(dash, a))
			}
			dash = []pt{a}
			n++
			left = pattern[n%len(pattern)] * scale
		}
		dash = append(dash, b)
	}
	if n%2 == 0 {
		out = append(out, dash)
	}
	return out
}

// stroked adds the areas of a line so thick on either side, with blunt ends
// and round corners. All turn the same way, so that they add up.
func stroked(areas [][]pt, line []pt, half float64, loop bool) [][]pt {
	type leg struct {
		a, b pt
		n    pt // square to it, as long as half the line is thick
	}
	var legs []leg
	for i, b := range line[1:] {
		a := line[i]
		if long := math.Hypot(b.x-a.x, b.y-a.y); long > 0 {
			legs = append(legs, leg{a, b, pt{(a.y - b.y) * half / long, (b.x - a.x) * half / long}})
		}
	}
	for i, l := range legs {
		areas = append(areas, []pt{
			{l.a.x + l.n.x, l.a.y + l.n.y}, {l.a.x - l.n.x, l.a.y - l.n.y},
			{l.b.x - l.n.x, l.b.y - l.n.y}, {l.b.x + l.n.x, l.b.y + l.n.y},
		})
		last := legs[(i+len(legs)-1)%len(legs)]
		if i == 0 && !loop {
			continue
		}
		// The wedge outside the corner where the leg before meets this one.
		turn := math.Atan2(last.n.x*l.n.y-last.n.y*l.n.x, last.n.x*l.n.x+last.n.y*l.n.y)
		from := math.Atan2(last.n.y, last.n.x)
		if turn > 0 {
			from += math.Pi
		}
		wedge := []pt{l.a}
		steps := max(1, math.Ceil(math.Abs(turn)/0.4))
		for k := 0.0; k <= steps; k++ {
			sin, cos := math.Sincos(from + turn*k/steps)
			wedge = append(wedge, pt{l.a.x + half*cos, l.a.y + half*sin})
		}
		if turn < 0 {
			slices.Reverse(wedge)
		}
		areas = append(areas, wedge)
	}
	return areas
}

// fill fills areas with grey, where they lie over one another once.
func (p *painter) fill(areas [][]pt, grey uint8) {
	all := nowhere
	for _, a := range areas {
		all = all.join(boxOf(a, 0))
	}
	if all.empty() {
		return
	}
	on := p.picture.Bounds()
	low := min(int(math.Ceil(all.y1)), on.Max.Y)
	for top := max(int(math.Floor(all.y0)), 0); top < low; top += stripRows {
		end := min(top+stripRows, low)
		// What of the areas lies in the strip, and how far across.
		var in [][]pt
		x0, x1 := math.Inf(1), math.Inf(-1)
		for _, a := range areas {
			if from, to := between(a, float64(top), float64(end)); from <= to {
				in = append(in, a)
				x0, x1 = min(x0, from), max(x1, to)
			}
		}
		if len(in) > 0 {
			p.strip(in, image.Rect(int(math.Floor(x0)), top, int(math.Ceil(x1)), end).Intersect(on), grey)
		}
	}
}

// between is how far across the edges of an area reach between two heights.
func between(area []pt, y0, y1 float64) (from, to float64) {
	from, to = math.Inf(1), math.Inf(-1)
	for i, b := range area {
		a := area[(i+len(area)-1)%len(area)]
		if a.y > b.y {
			a, b = b, a
		}
		if b.y < y0 || a.y > y1 {
			continue
		}
		for _, y := range []float64{max(a.y, y0), min(b.y, y1)} {
			x := a.x
			if b.y > a.y {
				x += (b.x - a.x) * (y - a.y) / (b.y - a.y)
			}
			from, to = min(from, x), max(to, x)
		}
		if a.y == b.y {
			from, to = min(from, b.x), max(to, b.x)
		}
	}
	return from, to
}

// strip fills what of the areas lies in a box.
func (p *painter) strip(areas [][]pt, box image.Rectangle, grey uint8) {
	w, h := box.Dx(), box.Dy()
	if w <= 0 || h <= 0 {
		return
	}
	room := image.Rect(0, 0, w, h)
	switch {
	case max(w, h) >= leastRaster:
	case w < h:
		room.Max.Y = leastRaster
	default:
		room.Max.X = leastRaster
	}
	p.raster.Reset(room.Dx(), room.Dy())
	for _, a := range areas {
		for i, q := range a {
			x, y := float32(q.x-float64(box.Min.X)), float32(q.y-float64(box.Min.Y))
			if i == 0 {
				p.raster.MoveTo(x, y)
			} else {
				p.raster.LineTo(x, y)
			}
		}
		p.raster.ClosePath()
	}
	p.mask.Rect, p.mask.Stride = room, room.Dx()
	p.mask.Pix = slices.Grow(p.mask.Pix[:0], room.Dx()*room.Dy())[:room.Dx()*room.Dy()]
	p.raster.DrawOp = draw.Src
	p.raster.Draw(&p.mask, room, image.Opaque, image.Point{})
	for y := range h {
		dots := p.picture.Pix[p.picture.PixOffset(box.Min.X, box.Min.Y+y):][:w]
		for x, cover := range p.mask.Pix[y*p.mask.Stride:][:w] {
			if cover > 0 {
				dots[x] = uint8((int(dots[x])*(255-int(cover)) + int(grey)*int(cover) + 127) / 255)
			}
		}
	}
}

// withDots says in a PNG how many dots a metre has: the pHYs chunk, behind
// the header.
func withDots(b []byte, dpi int) []byte {
	const header = 8 + 25
	dots := uint32(math.Round(float64(dpi) / 0.0254))
	chunk := binary.BigEndian.AppendUint32(nil, 9)
	chunk = append(chunk, "pHYs"...)
	chunk = binary.BigEndian.AppendUint32(chunk, dots)
	chunk = binary.BigEndian.AppendUint32(chunk, dots)
	chunk = append(chunk, 1)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(chunk[4:]))
	return slices.Concat(b[:header], chunk, b[header:])
}
