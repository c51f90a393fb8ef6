package agreement

import (
	"cmp"
	"context"
	"fmt"
	"strings"
)

// One computes a single coefficient by name with its intervals, for those who
// need no other: simulations, planning and benchmarks.
func One(ctx context.Context, name string, r Ratings, scale string, o Options) (Coefficient, error) {
	if err := cmp.Or(checkScale(scale), usable(r, o)); err != nil {
		return Coefficient{}, err
	}
	switch {
	case name == "krippendorff-alpha":
		return KrippendorffAlpha(ctx, r, scale, o)
	case name == "cronbach-alpha":
		c := CronbachAlpha(r, o.level())
		full := r.complete()
		if len(full) < 2 {
			return c, nil
		}
		cs := ICC(full, o.level())
		if err := bootstrapICC(ctx, full, cs, o); err != nil {
			return c, err
		}
		c.Others = cs[5].Others // the same number
		return c, nil
	case strings.HasPrefix(name, "icc("):
		cs := ICC(r, o.level())
		if r.missing() == 0 && len(r) > 1 {
			if err := bootstrapICC(ctx, r, cs, o); err != nil {
				return Coefficient{}, err
			}
		}
		return named(cs, name)
	}
	c := encode(r.rated(), o.Categories)
	for _, m := range family(c, scale, o.Weights) {
		if m.name == name {
			cs, err := c.coefficients(ctx, []member{m}, o)
			if err != nil {
				return Coefficient{}, err
			}
			return cs[0], nil
		}
	}
	return Coefficient{}, fmt.Errorf("no coefficient %q on the %s scale for %d raters", name, scale, r.raters())
}

func named(cs []Coefficient, name string) (Coefficient, error) {
	for _, c := range cs {
		if c.Name == name {
			return c, nil
		}
	}
	return Coefficient{}, fmt.Errorf("no coefficient %q", name)
}
