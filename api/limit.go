package api

import (
	"sync"
	"time"

	"golang.org/x/time/rate"

	"hodman/service"
)

// meter bounds how often each caller asks.
type meter struct {
	mu      sync.Mutex
	buckets map[string]*rate.Limiter
	rate    rate.Limit
	burst   int
}

// mostMetered is how many callers are remembered. A caller forgotten starts with a
// full bucket, as one does who has not asked for a while.
const mostMetered = 50_000

func newMeter(perSecond float64, burst int) *meter {
	m := &meter{buckets: make(map[string]*rate.Limiter), rate: rate.Limit(perSecond), burst: burst}
	if perSecond < 0 {
		m.rate = rate.Inf
	}
	return m
}

// wait takes one request out of the caller's bucket: nought where it may go on, else
// how long until it might.
func (m *meter) wait(caller string) time.Duration {
	now := time.Now()
	m.mu.Lock()
	b := m.buckets[caller]
	if b == nil {
		if len(m.buckets) >= mostMetered {
			m.forget(now)
		}
		b = rate.NewLimiter(m.rate, m.burst)
		m.buckets[caller] = b
	}
	m.mu.Unlock()
	r := b.ReserveN(now, 1)
	delay := r.DelayFrom(now)
	if delay > 0 {
		r.CancelAt(now)
	}
	return delay
}

// forget drops whoever has a full bucket, and everybody where that makes no room.
func (m *meter) forget(now time.Time) {
	for caller, b := range m.buckets {
		if b.TokensAt(now) >= float64(m.burst) {
			delete(m.buckets, caller)
		}
	}
	if len(m.buckets) >= mostMetered {
		clear(m.buckets)
	}
}

func tooMany(wait time.Duration) error {
	return &service.Error{Kind: service.TooMany, Code: "too_many_requests", RetryAfter: wait,
		Message: "Too many requests. Ask again after the time in Retry-After, and less often."}
}
