package web_test

import (
	"net/http"
	"testing"
)

// Whether the bench works inside with the power on is asked once, with the first device; the
// answer stands at every case, with one press to change it.
func TestLiveIsAskedOnce(t *testing.T) {
	v, b := visit(t)
	p := v.get("/").says("fieldset", "Do you work inside devices with the power on?").submit("/take-in", "device", "powered loudspeaker").want(http.StatusOK)
	set, err := b.BenchSettings(t.Context())
	if err != nil || !set.NoLive || !set.LiveSaid {
		t.Fatalf("the default is not unplugged only: %+v, %v", set, err)
	}
	p.says(".ticket", "Unplugged only")
	p = p.submit("/settings/live", "live", "yes").want(http.StatusOK)
	if set, _ = b.BenchSettings(t.Context()); set.NoLive {
		t.Error("one press did not change it")
	}
	p.says(".ticket", "Work with the power on is allowed")
	if again := v.get("/").all("input[name=live]"); len(again) > 0 {
		t.Error("it is asked again")
	}
}
