package arch

import (
	"slices"
	"testing"

	"hodman/service/measure"
)

const mm = measure.Millimetre

// By the geometry of the circle, worked by hand.
func TestRadius(t *testing.T) {
	for _, c := range []struct{ half, rise, want measure.Length }{
		{500, 500, 500_000},   // a semicircle
		{600, 200, 1000_000},  // (360000 + 40000) / 400 = 1000
		{600, 165, 1_173_409}, // (360000 + 27225) / 330 = 1173.409
	} {
		a := Arc{Half: c.half * mm, Rise: c.rise * mm}
		if got := a.Radius(); got != c.want {
			t.Errorf("half %d, rise %d: %d, want %d", c.half, c.rise, got, c.want)
		}
	}
}

// Bricks on edge, 102.5 deep and 65 thick with joints of 10, over a semicircle of 900 mm. The middle
// of the first ring is an arc of pi x (450 + 51.25) = 1574.7 mm, 20.996 bricks of 75: the odd number
// below, but for the part of a pair: 2 x 10 + 1 = 21. Of the second, pi x (450 + 112.5 + 51.25) = 1928.2, 25.7: 25.
func TestRings(t *testing.T) {
	a := Arc{Half: 450 * mm, Rise: 450 * mm}
	if got := Rings(a, 2, 102_500, 65*mm, 10*mm); !slices.Equal(got, []int{21, 25}) {
		t.Errorf("%v", got)
	}
	// A bull's eye of 900: 2 pi x 501.25 = 3149.4, 41.99 bricks: 42.
	if got := Rings(Arc{Half: 450 * mm, Circle: true}, 1, 102_500, 65*mm, 10*mm); !slices.Equal(got, []int{42}) {
		t.Errorf("%v", got)
	}
}

// Gauged, 215 deep, joints of 3 mm. Semicircle of 900: pi x (450 + 215) = 2089.2 mm at the extrados, 30.7 bricks
// of 68: 31. Segment of half 600 and rise 200, radius 1000: the angle is 4 atan(1/3) = 1.28700; 1.287 x 1215 = 1563.7, 22.996: 23.
func TestGauged(t *testing.T) {
	if got := Gauged(Arc{Half: 450 * mm, Rise: 450 * mm}, 215*mm, 65*mm, 3*mm); got != 31 {
		t.Errorf("semicircle: %d", got)
	}
	if got := Gauged(Arc{Half: 600 * mm, Rise: 200 * mm}, 215*mm, 65*mm, 3*mm); got != 23 {
		t.Errorf("segment: %d", got)
	}
}

// A flat arch over 910 mm whose skewbacks lean out 124 mm: 910 + 248 + 3 = 1161 mm, 17.07 bricks of 68, up to
// the odd number 19.
func TestFlat(t *testing.T) {
	if got := Flat(910*mm, 124*mm, 65*mm, 3*mm); got != 19 {
		t.Errorf("%d", got)
	}
}

// Semicircle of radius 500: pi x 0.25 / 2 = 0.392699 m2. Segment of half 600 and rise 200: r2 (a - sin a) / 2 with a = 1.2870022,
// sin a = 0.96: 0.163501 m2.
func TestArea(t *testing.T) {
	for _, c := range []struct {
		a    Arc
		want measure.Area
	}{
		{Arc{Half: 500 * mm, Rise: 500 * mm}, 392_699}, {Arc{Half: 600 * mm, Rise: 200 * mm}, 163_501}, {Arc{Half: 500 * mm, Circle: true}, 785_398},
	} {
		if got := c.a.Area(); got != c.want*measure.Area(mm)*measure.Area(mm) {
			t.Errorf("%+v: %v, want %d mm2", c.a, got, c.want)
		}
	}
}
