package datasets

import (
	"crypto/rand"
	"encoding/csv"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"tyro/datasets/internal/grid"
	"tyro/datasets/problem"
)

// Privacy says whose data are left out, and how small a count may be shown to others.
type Privacy struct {
	Withdrawn    []string `yaml:"withdrawn"` // trainees who took their consent back
	Consent      *Consent `yaml:"consent"`   // nil: nobody is asked
	SmallestCell int      `yaml:"smallest_cell"`
}

// A Key says which code stands for whom. It is kept apart from the data, readable by its
// owner alone.
type Key struct {
	rows [][3]string // role, name, code
	code map[[2]string]string
	used map[string]bool
}

// OpenKey reads a key; an empty one where there is no file yet.
func OpenKey(path string) (*Key, error) {
	k := &Key{code: map[[2]string]string{}, used: map[string]bool{}}
	f, err := os.Open(path)
	if errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if info, err := f.Stat(); err == nil && info.Mode().Perm()&0o077 != 0 {
		return nil, Problem{File: filepath.Base(path), Err: problem.ErrRange, Expect: "a key that its owner alone can read (chmod 600)"}
	}
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		return nil, Problem{File: filepath.Base(path), Err: problem.ErrFormat, Expect: "a key with the columns role, name and code"}
	}
	for i, row := range rows {
		if len(row) != 3 || i == 0 && !slices.Equal(row, []string{"role", "name", "code"}) {
			return nil, Problem{File: filepath.Base(path), Line: i + 1, Err: problem.ErrFormat, Expect: "a key with the columns role, name and code"}
		}
		if i > 0 {
			k.put(row[0], grid.Unguard(row[1]), row[2])
		}
	}
	return k, nil
}

func (k *Key) put(role, name, code string) {
	k.rows = append(k.rows, [3]string{role, name, code})
	k.code[[2]string{role, name}], k.used[code] = code, true
}

// codeLetters are those that nobody takes for others, and that spell no words.
const codeLetters = "23456789CDFGHJKMNPQRTVWX"

// of is the code of somebody: the same in every import, and drawn at random the first
// time, so that it tells nothing.
func (k *Key) of(role, name string) (string, error) {
	if name == "" {
		return "", nil
	}
	if code, ok := k.code[[2]string{role, name}]; ok {
		return code, nil
	}
	for {
		var b strings.Builder
		b.WriteString(strings.ToUpper(role[:1]) + "-")
		for range 6 {
			n, err := rand.Int(rand.Reader, big.NewInt(int64(len(codeLetters))))
			if err != nil {
				return "", err
			}
			b.WriteByte(codeLetters[n.Int64()])
		}
		if code := b.String(); !k.used[code] {
			k.put(role, name, code)
			return code, nil
		}
	}
}

// Forget removes somebody from the key.
func (k *Key) Forget(name string) {
	k.rows = slices.DeleteFunc(k.rows, func(r [3]string) bool { return r[1] == name || r[2] == name })
	for key, code := range k.code {
		if key[1] == name || code == name {
			delete(k.code, key)
		}
	}
}

// Write puts the key into a file that its owner alone can read, whole or not at all.
func (k *Key) Write(path string) error {
	f, err := os.CreateTemp(filepath.Dir(path), ".key-*") // CreateTemp gives 0600
	if err != nil {
		return err
	}
	out := csv.NewWriter(f)
	_ = out.Write([]string{"role", "name", "code"}) // the error stays in the writer
	for _, r := range k.rows {
		_ = out.Write([]string{r[0], grid.Guard(r[1]), r[2]})
	}
	out.Flush()
	err = errors.Join(out.Error(), f.Chmod(0o600), f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// Pseudonymise puts codes in the place of trainees, experts and raters, in the data and in
// everything that was noted about them. Whoever withdrew is taken from the key.
func (s *Study) Pseudonymise(k *Key) error {
	if s.Privacy != nil {
		for _, name := range s.Privacy.Withdrawn {
			k.Forget(name)
		}
	}
	names := map[string]string{} // name → code, for notes and samples
	code := func(role string, name *string) error {
		c, err := k.of(role, *name)
		if err == nil && *name != "" {
			names[*name], *name = c, c
		}
		return err
	}
	for _, l := range []struct {
		role string
		log  *Log
	}{{"trainee", &s.Attempts}, {"expert", &s.Experts}} {
		done := map[*Place]bool{}
		for _, a := range l.log.Attempts {
			if !done[a.Place] {
				done[a.Place] = true
				if err := code(l.role, &a.Trainee); err != nil {
					return err
				}
			}
		}
	}
	if s.Ratings != nil {
		for i := range s.Ratings.Items {
			it := &s.Ratings.Items[i]
			it.Raters, it.Trainees, it.Subjects = slices.Clone(it.Raters), slices.Clone(it.Trainees), slices.Clone(it.Subjects)
			for j := range it.Raters {
				if err := code("rater", &it.Raters[j]); err != nil {
					return err
				}
			}
			for j := range it.Trainees {
				if err := code("trainee", &it.Trainees[j]); err != nil {
					return err
				}
			}
			for j, name := range it.Subjects { // a performance, or the trainee who gave it
				if _, known := k.code[[2]string{"trainee", name}]; known {
					if err := code("trainee", &it.Subjects[j]); err != nil {
						return err
					}
				}
			}
		}
	}
	s.renameNotes(names)
	return nil
}

// isName reports whether a text tells who somebody is wherever it stands: "A" and "12" do not,
// and would be found in every sentence.
func isName(text string) bool {
	return len([]rune(text)) >= 3 && strings.IndexFunc(text, unicode.IsLetter) >= 0
}

// replaceWord puts code for name wherever it stands as words of its own.
func replaceWord(text, name, code string) string {
	var b strings.Builder
	for {
		i := strings.Index(text, name)
		if i < 0 {
			return b.String() + text
		}
		before, _ := utf8.DecodeLastRuneInString(text[:i])
		after, _ := utf8.DecodeRuneInString(text[i+len(name):])
		inWord := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
		b.WriteString(text[:i])
		if i > 0 && inWord(before) || inWord(after) {
			b.WriteString(name)
		} else {
			b.WriteString(code)
		}
		text = text[i+len(name):]
	}
}

// renameNotes puts codes for names into notes and samples; a sample whose name is not
// known is left out.
func (s *Study) renameNotes(names map[string]string) {
	var pairs []string
	for _, name := range sortedKeys(names) {
		pairs = append(pairs, fmt.Sprintf("%q", name), fmt.Sprintf("%q", names[name]), "trainee "+name+" ", "trainee "+names[name]+" ", "trainee "+name+":", "trainee "+names[name]+":", "trainee "+name+",", "trainee "+names[name]+",")
	}
	r := strings.NewReplacer(pairs...)
	spoken := slices.DeleteFunc(sortedKeys(names), func(name string) bool { return !isName(name) })
	slices.SortStableFunc(spoken, func(a, b string) int { return len(b) - len(a) }) // "Ann Lee" before "Ann"
	rename := func(notes []Note) {
		for i := range notes {
			if notes[i].Code == "similar-codes" {
				notes[i].Text = "some codes look alike and are kept apart; check without a key shows them"
			}
			notes[i].Text = r.Replace(notes[i].Text)
			for _, name := range spoken {
				notes[i].Text = replaceWord(notes[i].Text, name, names[name])
			}
		}
	}
	rename(s.Notes)
	if s.Ratings != nil {
		rename(s.Ratings.Notes)
	}
	for i := range s.Files {
		for j := range s.Files[i].Columns {
			c := &s.Files[i].Columns[j]
			if c.As == "trainee" || c.As == "rater" || c.As == "subject" || strings.HasPrefix(c.As, "scores of") {
				c.Samples = nil
				if c.As == "scores of a rater" {
					c.Name = "a rater"
				}
			}
		}
	}
}
