package datasets

import (
	"slices"
	"testing"
)

func codesOf(notes []Note) []string {
	var out []string
	for _, n := range notes {
		out = append(out, n.Code)
	}
	return out
}

// Raters called after two others, or each before and after, are said; people with two names are not.
func TestNamesOfRaters(t *testing.T) {
	for _, c := range []struct {
		raters []string
		want   []string
	}{
		{[]string{"Ash", "Elm", "Ash+Elm"}, []string{"raters-together"}},
		{[]string{"Ash", "Elm", "Ash and Elm"}, []string{"raters-together"}},
		{[]string{"Ash", "Elm", "Fir & Co"}, nil},
		{[]string{"J1 before", "J2 before", "J3 before", "J1 after", "J2 after", "J3 after"}, []string{"rater-twice"}},
		{[]string{"Dr Ash", "Dr Elm", "Dr Fir"}, nil},
		{[]string{"Ann Ash", "Ben Elm", "Cem Fir"}, nil},
	} {
		r := &ratingsReader{}
		r.ratersOfParts(RatedItem{Raters: c.raters})
		if got := codesOf(r.out.Notes); !slices.Equal(got, c.want) {
			t.Errorf("%q: %q, want %q", c.raters, got, c.want)
		}
	}
}

// A total that nobody asked for is said, one that the study lists is not.
func TestItemSumsUp(t *testing.T) {
	items := []RatedItem{{Name: "grip"}, {Name: "flow"}, {Name: "total"}}
	for s := range 8 {
		grip, flow := float64(s%4+1), float64(s%3+1)
		for k, v := range []float64{grip, flow, grip + flow} {
			items[k].Subjects = append(items[k].Subjects, string(rune('A'+s)))
			items[k].Scores = append(items[k].Scores, []float64{v})
		}
	}
	for k := range items {
		items[k].Raters = []string{"Ash"}
	}
	r := &ratingsReader{out: Ratings{Items: items}}
	r.itemSumsUp()
	if got := codesOf(r.out.Notes); !slices.Equal(got, []string{"item-sums-up"}) {
		t.Errorf("a total nobody asked for: %q", got)
	}
	r = &ratingsReader{rf: RatingsFile{Items: []ItemSpec{{Name: "total"}}}, out: Ratings{Items: items}}
	if r.itemSumsUp(); len(r.out.Notes) > 0 {
		t.Errorf("a total in the study's list: %q", codesOf(r.out.Notes))
	}
	items[2].Scores[5][0]++
	r = &ratingsReader{out: Ratings{Items: items}}
	if r.itemSumsUp(); len(r.out.Notes) > 0 {
		t.Errorf("no total: %q", codesOf(r.out.Notes))
	}
}
