package datasets

import "testing"

// A name is taken out wherever it stands as words of its own, and nowhere inside another word.
func TestNamesInNotes(t *testing.T) {
	s := &Study{Notes: []Note{
		{Code: "x", Text: "Ash, Ann Lee and Ann: ask Ash's dean; Ashley and 12 others"},
	}}
	s.renameNotes(map[string]string{"Ash": "P1", "Ann": "P2", "Ann Lee": "P3", "12": "P4"})
	if got, want := s.Notes[0].Text, "P1, P3 and P2: ask P1's dean; Ashley and 12 others"; got != want {
		t.Errorf("got %q, want %q", got, want)
	}
}
