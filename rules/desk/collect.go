package desk

import (
	"os"
	"runtime"
	"runtime/debug"
	"sync/atomic"
)

// How much garbage may lie about before it is collected, in percent of what is
// in use: ours. What is in use counts as 4 MB at least.
const (
	firstGC = 500 // before the first time: most runs end before that
	smallGC = 200 // while less than smallHeap bytes are in use
	usualGC = 100 // as Go has it
	leanGC  = 20  // where a catalogue may be large, at the cost of a little time
	tightGC = 8   // there, while more than largeHeap is in use

	smallHeap = 8 << 20
	largeHeap = 96 << 20
)

// collecting is the percentage where more than smallHeap is in use.
var collecting atomic.Int64

// CollectLate has garbage collected later than Go does while little is in use:
// of a garment not at all, of a folder less often. Who says by GOGC or
// GOMEMLIMIT how it is to be is obeyed.
func CollectLate() {
	if os.Getenv("GOGC") == "" && os.Getenv("GOMEMLIMIT") == "" {
		collecting.Store(usualGC)
		debug.SetGCPercent(firstGC)
		afterNext()
	}
}

// afterNext sets the percentage anew after the next collection: it is told by
// something that is garbage then.
func afterNext() {
	runtime.AddCleanup(new(*int), func(int) {
		var m runtime.MemStats
		runtime.ReadMemStats(&m)
		percent := int(collecting.Load())
		switch in := m.HeapAlloc; { // a little more than is in use: it is being swept
		case in < smallHeap:
			percent = max(percent, smallGC)
		case in > largeHeap && percent == leanGC:
			percent = tightGC
		}
		debug.SetGCPercent(percent)
		afterNext()
	}, 0)
}

// collectEarly keeps garbage down to leanGC, until what it returns is called.
func collectEarly() (usual func()) {
	was, percent := collecting.Load(), debug.SetGCPercent(leanGC)
	if was != 0 {
		collecting.Store(leanGC)
		debug.SetGCPercent(percent) // until there is something to collect
	}
	return func() {
		collecting.Store(was)
		debug.SetGCPercent(percent)
	}
}
