package spacing

// Sets of places are kept as ascending spans that do not touch. A set that
// moves down the run by a range of gaps stays one span for each span, so a
// level costs no more than the zones and anchors it is cut by, however fine
// the grid.

// advance appends the places that can follow one of the set w.spans[from:to]
// at a gap of least to most, in k. Only places from clip.lo to clip.hi count.
func (w *work) advance(from, to int, least, most int64, clip span) {
	t := &w.track
	leaping, free := 0, 0
	next, pending := span{}, false
	for i := from; i < to; i++ {
		s := w.spans[i]
		for lo := s.lo; lo <= s.hi; {
			// The stretch from lo whose places all face the same anchor.
			hi, limit := s.hi, int64(noGap)
			w.tries++
			for leaping < len(t.leaps) && t.leaps[leaping].from <= lo {
				leaping++
			}
			if leaping < len(t.leaps) {
				hi, limit = min(hi, t.leaps[leaping].from-1), t.leaps[leaping].to
			}
			moved := span{max(lo+least, clip.lo), min(hi+most, limit, clip.hi)}
			lo = hi + 1
			switch {
			case moved.lo > moved.hi:
			case pending && moved.lo <= next.hi+1:
				next.hi = max(next.hi, moved.hi)
			default:
				if pending {
					free = w.cut(next, free)
				}
				next, pending = moved, true
			}
		}
	}
	if pending {
		w.cut(next, free)
	}
}

// cut appends the free places of s, looking from t.free[i] on, and tells from
// where to look for the next.
func (w *work) cut(s span, i int) int {
	free, from := w.free, i
	for i < len(free) && free[i].hi < s.lo {
		i++
	}
	j := i
	for ; j < len(free) && free[j].lo <= s.hi; j++ {
		w.spans = append(w.spans, span{max(s.lo, free[j].lo), min(s.hi, free[j].hi)})
	}
	w.tries += j - from
	w.hold(int64(len(w.spans)))
	return i
}

// steps gives the range of a gap in k. off is what its ends take from it.
func (t *track) steps(least, most, off int64) (int64, int64) {
	return ceilDiv(least+off, t.stride), floorDiv(most+off, t.stride)
}

// beginLevels sets level 0: where the first place may be.
func (w *work) beginLevels() {
	w.spans, w.levels = w.spans[:0], append(w.levels[:0], 0)
	if w.first.fixed {
		w.spans = append(w.spans, span{w.first.lo, w.first.hi})
	} else if w.first.lo <= w.first.hi {
		w.cut(span{w.first.lo, w.first.hi}, 0)
	}
	w.levels = append(w.levels, len(w.spans))
}

// level appends the next level: where the place after the last level may be.
func (w *work) level(least, most int64, clip span) (any bool) {
	n := len(w.levels)
	from, to := w.levels[n-2], w.levels[n-1]
	if w.tries++; w.out() {
		w.levels = append(w.levels, len(w.spans))
		return false
	}
	off := int64(0)
	if n == 2 && w.first.fixed {
		off = w.first.off
		clip.hi = min(clip.hi, w.firstTo)
	}
	lo, hi := w.steps(least, most, off)
	switch {
	case lo > hi: // no grid place in the gap limits
	case n == 2 && w.first.fixed:
		// Its anchors are in firstTo, told from its true place.
		if clip.lo, clip.hi = max(clip.lo, w.first.lo+lo), min(clip.hi, w.first.lo+hi); clip.lo <= clip.hi {
			w.cut(clip, 0)
		}
	default:
		w.advance(from, to, lo, hi, clip)
	}
	w.levels = append(w.levels, len(w.spans))
	return len(w.spans) > to
}

// arrives tells whether the last level is one place short of a fixed last, or
// holds a last that has a window.
func (w *work) arrives(least, most int64) bool {
	n := len(w.levels)
	lo, hi := w.last.lo, w.last.hi
	if w.last.fixed {
		if n == 2 && w.first.fixed {
			gap := w.last.place - w.first.place
			return w.direct && least <= gap && gap <= most
		}
		near, far := w.steps(least, most, w.last.off)
		lo, hi = max(w.last.lo-far, w.lastFrom), w.last.lo-near
	}
	w.tries += w.levels[n-1] - w.levels[n-2]
	for _, s := range w.spans[w.levels[n-2]:w.levels[n-1]] {
		if max(s.lo, lo) <= min(s.hi, hi) {
			return true
		}
	}
	return false
}

// holds tells whether n places, at least 2, have all their gaps from least to
// most. It leaves the levels up to the last place, or up to the one before a
// fixed last.
func (w *work) holds(n int, least, most int64) bool {
	w.beginLevels()
	if w.levels[1] == 0 {
		return false
	}
	levels := n - 1 // to come
	near, far := w.steps(least, most, 0)
	lo, hi := w.last.lo, w.last.hi
	if w.last.fixed {
		levels--
		endNear, endFar := w.steps(least, most, w.last.off)
		lo, hi = lo-endFar, hi-endNear
	}
	// far is at most noGap and there are at most a thousand levels.
	for i := int64(levels) - 1; i >= 0; i-- {
		if !w.level(least, most, span{lo - i*far, hi - i*near}) {
			return false
		}
	}
	return w.arrives(least, most)
}

// counts calls yield with each n from 1 to most, ascending, that has a layout,
// until yield returns false.
func (w *work) counts(most int, yield func(n int) bool) {
	if most >= 1 && w.singleExists && !yield(1) {
		return
	}
	w.beginLevels()
	for n := 2; n <= most; n++ {
		if !w.last.fixed {
			if !w.level(w.least, w.most, span{-noGap, noGap}) {
				return
			}
		}
		if w.arrives(w.least, w.most) && !yield(n) {
			return
		}
		if w.last.fixed && !w.level(w.least, w.most, span{-noGap, noGap}) {
			return
		}
	}
}

// exists tells whether p has a layout. It does not ask p to be checked: the
// step may be as fine as it likes.
func (w *work) exists(p *Problem) bool {
	if w.out() {
		return false
	}
	fewest, most := p.groups()
	w.survey(p)
	for _, g := range w.grids {
		if !w.lay(p, g) {
			continue
		}
		found := false
		switch {
		case fewest == 1 && w.singleExists:
			found = true
		case fewest == most:
			found = most > 1 && w.holds(most, w.least, w.most)
		case fewest == 1 && p.CountMax == 0:
			found = w.someCount(most)
		default:
			w.counts(most, func(n int) bool {
				found = n >= fewest
				return !found
			})
		}
		if found {
			return true
		}
	}
	return false
}

// someCount tells whether any count from 2 to most has a layout. Each level
// keeps the places of the ones before, so it ends where nothing is added,
// mostly after a few.
func (w *work) someCount(most int) bool {
	w.beginLevels()
	for n := 2; n <= most; n++ {
		if w.last.fixed && w.arrives(w.least, w.most) {
			return true
		}
		before, after := w.levels[len(w.levels)-2], w.levels[len(w.levels)-1]
		if !w.level(w.least, w.most, span{-noGap, noGap}) {
			return false
		}
		if !w.last.fixed && w.arrives(w.least, w.most) {
			return true
		}
		if n > 2 || !w.first.fixed {
			if !w.keep(before, after) {
				return false
			}
		}
	}
	return false
}

// keep joins the set w.spans[before:after] into the last level. It tells
// whether the level then has more than that set.
func (w *work) keep(before, after int) bool {
	n := len(w.levels)
	end := len(w.spans)
	w.tries += end - before
	a, b := before, after
	for a < after || b < end {
		var s span
		if b == end || a < after && w.spans[a].lo <= w.spans[b].lo {
			s, a = w.spans[a], a+1
		} else {
			s, b = w.spans[b], b+1
		}
		if i := len(w.spans) - 1; i >= end && s.lo <= w.spans[i].hi+1 {
			w.spans[i].hi = max(w.spans[i].hi, s.hi)
		} else {
			w.spans = append(w.spans, s)
		}
	}
	joined := w.spans[end:]
	more := len(joined) != after-before
	for i := 0; !more && i < len(joined); i++ {
		more = joined[i] != w.spans[before+i]
	}
	w.spans = append(w.spans[:after], joined...)
	w.levels[n-1] = len(w.spans)
	return more
}
