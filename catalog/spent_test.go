package catalog

import "time"

// answered is how long a hostile file may take, in time of the processor: on
// a busy machine the clock says nothing.
const answered = 2 * time.Second * slower

var started = time.Now()

// spent is the time of the processor that this process has taken: where it
// cannot be told, the time that has gone by.
var spent = func() time.Duration { return time.Since(started) }
