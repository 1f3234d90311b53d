package process_test

import (
	"testing"

	"larderlamp/rules/process"
)

// A file can name each single value; neither a set of several nor any other text is
// taken for one.
func TestIDsLeadBack(t *testing.T) {
	for _, p := range process.Packs {
		if p.ID() == "" || process.PackByID(p.ID()) != p {
			t.Errorf("pack %d: got the name %q, which is read as %d", p, p.ID(), process.PackByID(p.ID()))
		}
	}
	for _, g := range process.Gauges {
		if g.ID() == "" || process.GaugeByID(g.ID()) != g {
			t.Errorf("gauge %d: got the name %q, which is read as %d", g, g.ID(), process.GaugeByID(g.ID()))
		}
	}
	for _, v := range process.Vents {
		if v.ID() == "" || process.VentByID(v.ID()) != v {
			t.Errorf("venting %d: got the name %q, which is read as %d", v, v.ID(), process.VentByID(v.ID()))
		}
	}
	if got := (process.Hot | process.Raw).ID() + process.Gauge(0).ID(); got != "" {
		t.Errorf("a set of several values: got the name %q, want none", got)
	}
	for _, id := range []string{"", "Hot", "weight", "true"} {
		if process.PackByID(id) != 0 || process.GaugeByID(id) != 0 || process.VentByID(id) != 0 {
			t.Errorf("%q: got a value, want none", id)
		}
	}
}

// The bands are those in which the minutes of boiling grow by one, and every foot
// of one is in what its highest foot says.
func TestBands(t *testing.T) {
	for i, top := range process.Bands {
		r := process.BandUpTo(top)
		if int(top) != 1000*(i+1)-1 || !r.Known || r.Low != 1000*i || r.High != int(top) {
			t.Errorf("band %d: up to %d ft: got %+v", i, top, r)
		}
		if process.BoilMinutes(process.Feet(r.Low)) != process.BoilMinutes(process.Feet(r.High)) {
			t.Errorf("band %d: the minutes of boiling differ within %+v", i, r)
		}
	}
	if r := process.BandUpTo(-500); r.High < -500 || r.Low > -500 {
		t.Errorf("500 ft below sea level: got %+v, want it to include that", r)
	}
}
