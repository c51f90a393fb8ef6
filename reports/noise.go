package reports

import (
	"fmt"

	"tyro/models"
)

// NoiseWords names a noise as methods do: "lognormal noise", with what the name may not tell.
func NoiseWords(name string) string {
	words := name + " noise"
	if tails := tailWords(name); tails != "" {
		words += " (" + tails + ")"
	}
	return words
}

// tailWords say what scatters with heavier tails than the normal's, and how; blank where nothing does.
func tailWords(name string) string {
	n, err := models.NoiseByName(name)
	if err != nil {
		return ""
	}
	df, tailed := models.TailDF(n)
	if !tailed {
		return ""
	}
	what := "responses scatter"
	if on, _ := models.AddedOn(n); on == models.AddedLog {
		what = "natural logarithms of responses scatter"
	}
	return fmt.Sprintf("%s as Student's t on %g degrees of freedom, so that single attempts may lie far from the others", what, df)
}
