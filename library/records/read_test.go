package records

import (
	"math"
	"strings"
	"testing"
)

func TestReadingSaysWhereItFails(t *testing.T) {
	for name, tc := range map[string]struct {
		read func() error
		say  string
	}{
		"empty":    {func() error { _, err := readShares(""); return err }, "needs a heading line"},
		"column":   {func() error { _, err := readShares("category,class,n\n"); return err }, `no column "share"`},
		"number":   {func() error { _, err := readShares("category,class,share,n\nFan,fuse,much,1\n"); return err }, `line 2: share "much"`},
		"NaN":      {func() error { _, err := readShares("category,class,share,n\nFan,fuse,NaN,1\n"); return err }, `line 2: share "NaN"`},
		"negative": {func() error { _, err := readCounts("category,cause_class,n\nFan,fuse,-3\n"); return err }, `line 2: n "-3"`},
		"stated": {func() error {
			_, err := readLabels("record_id,category,class,symptom_stated\nr1,Fan,fuse,maybe\n")
			return err
		}, `"maybe", not yes or no`},
		"nobody": {func() error {
			_, err := readOutcomes("category,n,fixed,repairable,end_of_life,median_age_years,n_age_known,top_barrier,top_barrier_n\nFan,0,0,0,0,0,0,,0\n")
			return err
		}, "n is 0"},
	} {
		t.Run(name, func(t *testing.T) {
			if err := tc.read(); err == nil || !strings.Contains(err.Error(), tc.say) {
				t.Errorf("error %v, want %q in it", err, tc.say)
			}
		})
	}
}

func FuzzReadShares(f *testing.F) {
	f.Add("category,class,share,n\nFan,fuse,0.5,3\n")
	f.Add("class,category\n\"")
	f.Fuzz(func(t *testing.T, text string) {
		shares, err := readShares(text)
		for c, list := range shares {
			for _, s := range list {
				if err != nil || math.IsNaN(s.Share) || math.IsInf(s.Share, 0) || s.Share < 0 {
					t.Errorf("%s: %+v with error %v", c, s, err)
				}
			}
		}
	})
}

func FuzzReadCounts(f *testing.F) {
	f.Add("category,cause_class,n\nALL,fuse,3\nFan,user-error,3\n")
	f.Fuzz(func(t *testing.T, text string) {
		counts, _ := readCounts(text)
		for _, c := range counts {
			if c.Category == "ALL" || !(c.N >= 0) {
				t.Errorf("%+v", c)
			}
		}
	})
}
