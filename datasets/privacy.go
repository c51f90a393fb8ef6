package datasets

import (
	"cmp"
	"crypto/rand"
	"crypto/sha256"
	"encoding/csv"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"math/big"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"tyro/analysis/practice"
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
	info, err := f.Stat()
	if err == nil && info.IsDir() {
		return nil, Problem{File: filepath.Base(path), Err: problem.ErrFormat, Expect: "a file for the key, not a folder"}
	}
	if err == nil && info.Mode().Perm()&0o077 != 0 {
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
		if i == 0 {
			continue
		}
		name := grid.Unguard(row[1])
		if _, twice := k.code[[2]string{row[0], name}]; twice || k.used[row[2]] {
			return nil, Problem{File: filepath.Base(path), Line: i + 1, Err: problem.ErrDuplicate, Expect: "every name and every code once, since a code stands for one person"}
		}
		k.put(row[0], name, row[2])
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
// time, so that it tells nothing. A code of the key, of a file that was coded before, stays.
func (k *Key) of(role, name string) (string, error) {
	if name == "" || k.used[name] {
		return name, nil
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

// Forget removes somebody from the key, with the performances called by their name.
func (k *Key) Forget(name string) {
	of := func(role, called string) bool {
		return called == name || role == asPerformance && isName(name) && strings.Contains(strings.ToLower(called), strings.ToLower(name))
	}
	k.rows = slices.DeleteFunc(k.rows, func(r [3]string) bool { return of(r[0], r[1]) || r[2] == name })
	for key, code := range k.code {
		if of(key[0], key[1]) || code == name {
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
// everything that was noted about them, and of performances that are called by somebody's name.
// People then stand in the order of their codes, since that of a file is often that of names, and
// the hash is that of the coded data, since one of names could be found by guessing them. Whoever
// withdrew is taken from the key.
func (s *Study) Pseudonymise(k *Key) error {
	if err := s.forget(k); err != nil {
		return err
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
		role   string
		log    *Log
		sheets []*attributes
	}{{asTrainee, &s.Attempts, []*attributes{s.attemptSheet, s.traineeSheet}}, {asExpert, &s.Experts, nil}} {
		done := map[*Place]bool{}
		coded := map[string]string{}
		for _, a := range l.log.Attempts {
			if !done[a.Place] {
				done[a.Place] = true
				name := a.Trainee
				if err := code(l.role, &a.Trainee); err != nil {
					return err
				}
				coded[name] = a.Trainee
			}
		}
		for _, sheet := range l.sheets {
			if sheet != nil {
				sheet.coded = coded
			}
		}
		slices.SortStableFunc(l.log.Attempts, func(a, b Attempt) int { return cmp.Compare(a.Trainee, b.Trainee) })
	}
	if s.Ratings != nil {
		if err := s.codeRatings(k, code); err != nil {
			return err
		}
	}
	s.renameNotes(names)
	return s.hashCoded()
}

// forget takes whoever withdrew from the key. One who is listed by code is refused while the files
// still have their data, which have names: they would go on under another code.
func (s *Study) forget(k *Key) error {
	if s.Privacy == nil {
		return nil
	}
	here := s.here()
	var ps Problems
	for _, name := range s.Privacy.Withdrawn {
		if slices.ContainsFunc(k.rows, func(r [3]string) bool { return r[2] == name && here[r[1]] }) {
			ps = append(ps, Problem{File: StudyFile, Column: "privacy: withdrawn", Value: name, Err: problem.ErrUnknown, Expect: "a name as the files have it; this is a code of the key, which says whose it is"})
		}
	}
	if len(ps) > 0 {
		return ps
	}
	for _, name := range s.Privacy.Withdrawn {
		k.Forget(name)
	}
	return nil
}

// codeRatings puts codes into the ratings, and raters and performances in their order.
func (s *Study) codeRatings(k *Key, code func(role string, name *string) error) error {
	for i := range s.Ratings.Items {
		it := &s.Ratings.Items[i]
		it.Raters, it.Trainees, it.Subjects = slices.Clone(it.Raters), slices.Clone(it.Trainees), slices.Clone(it.Subjects)
		for j := range it.Raters {
			if err := code(asRater, &it.Raters[j]); err != nil {
				return err
			}
		}
		for j := range it.Trainees {
			if err := code(asTrainee, &it.Trainees[j]); err != nil {
				return err
			}
		}
		named := k.within()
		for j, name := range it.Subjects { // a performance, or the trainee who gave it
			role := ""
			if _, known := k.code[[2]string{asTrainee, name}]; known {
				role = asTrainee
			} else if named(name) {
				role = asPerformance
			}
			if role == "" {
				continue
			}
			if err := code(role, &it.Subjects[j]); err != nil {
				return err
			}
		}
		whose := func(j int) string {
			if it.Trainees != nil {
				return it.Trainees[j]
			}
			return ""
		}
		rows, columns := make([]int, len(it.Subjects)), make([]int, len(it.Raters))
		for j := range rows {
			rows[j] = j
		}
		for j := range columns {
			columns[j] = j
		}
		slices.SortFunc(rows, func(a, b int) int {
			return cmp.Or(cmp.Compare(whose(a), whose(b)), cmp.Compare(it.Subjects[a], it.Subjects[b]))
		})
		slices.SortFunc(columns, func(a, b int) int { return cmp.Compare(it.Raters[a], it.Raters[b]) })
		it.Subjects, it.Raters = permuted(it.Subjects, rows), permuted(it.Raters, columns)
		if it.Trainees != nil {
			it.Trainees = permuted(it.Trainees, rows)
		}
		turned := func(table [][]float64) [][]float64 {
			out := permuted(table, rows)
			for j := range out {
				out[j] = permuted(out[j], columns)
			}
			return out
		}
		it.Scores = turned(it.Scores)
		it.Rounds = slices.Clone(it.Rounds)
		for j := range it.Rounds {
			it.Rounds[j] = turned(it.Rounds[j])
		}
		if it.When != nil {
			it.When = turned(it.When)
		}
	}
	return nil
}

// permuted is a list in another order.
func permuted[T any](list []T, order []int) []T {
	out := make([]T, len(order))
	for i, from := range order {
		out[i] = list[from]
	}
	return out
}

// within tells of texts whether somebody's name stands in them.
func (k *Key) within() func(text string) bool {
	var names []string
	for _, r := range k.rows {
		if r[0] != asPerformance && isName(r[1]) {
			names = append(names, strings.ToLower(r[1]))
		}
	}
	return func(text string) bool {
		text = strings.ToLower(text)
		return slices.ContainsFunc(names, func(name string) bool { return strings.Contains(text, name) })
	}
}

// hashCoded puts the hash of the coded data in the place of that of the files.
func (s *Study) hashCoded() error {
	h := sha256.New()
	err := errors.Join(WriteLog(h, s.Attempts), WriteLog(h, s.Experts))
	if s.Ratings != nil {
		err = errors.Join(err, WriteRatings(h, *s.Ratings))
	}
	s.SHA256 = hex.EncodeToString(h.Sum(nil))
	return err
}

// isName reports whether a text tells who somebody is wherever it stands: T7 does; "A" and "12" do not,
// and would be found in every sentence.
func isName(text string) bool {
	letters := strings.IndexFunc(text, unicode.IsLetter) >= 0
	return letters && (len([]rune(text)) >= 3 || strings.IndexFunc(text, unicode.IsDigit) >= 0)
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

// renameNotes puts codes for names into notes and what is said of the files; a sample whose name
// is not known is left out.
func (s *Study) renameNotes(names map[string]string) {
	hide := func(notes []Note) {
		for i := range notes {
			if notes[i].Code == "similar-codes" {
				notes[i].Text = "some codes look alike and are kept apart; check without a key shows them"
			}
		}
	}
	hide(s.Notes)
	if s.Ratings != nil {
		hide(s.Ratings.Notes)
	}
	s.renameTexts(names)
	before := make([]string, 0, len(s.Files))
	for _, f := range s.Files {
		before = append(before, f.File)
	}
	s.renameFiles(names)
	named := false
	for i := range s.Files {
		named = named || s.Files[i].File != before[i]
	}
	if named { // files in the order of people go into that of codes, and what is noted of them
		slices.SortStableFunc(s.Files, func(a, b practice.FileRead) int { return cmp.Compare(a.File, b.File) })
		slices.SortStableFunc(s.Notes, func(a, b Note) int { return cmp.Compare(a.Text, b.Text) })
	}
	for i := range s.Files {
		for j := range s.Files[i].Columns {
			c := &s.Files[i].Columns[j]
			if s.AttemptFile != nil && s.AttemptFile.ColumnsAre == asTrainee && codeIn.MatchString(c.Name) {
				c.Name = "columns of trainees" // the first and the last would tell the order of names
			}
			if c.As == "trainee" || c.As == "rater" || c.As == "subject" || strings.HasPrefix(c.As, "scores of") {
				c.Samples = nil
				if c.As == "scores of a rater" {
					c.Name = "a rater"
				}
			}
		}
	}
}

// codeIn finds a trainee's code.
var codeIn = regexp.MustCompile(`\bT-[` + codeLetters + `]{6}\b`)

// renameTexts puts others in the place of names in notes.
func (s *Study) renameTexts(names map[string]string) {
	var pairs []string
	for _, name := range sortedKeys(names) {
		pairs = append(pairs, fmt.Sprintf("%q", name), fmt.Sprintf("%q", names[name]), "trainee "+name+" ", "trainee "+names[name]+" ", "trainee "+name+":", "trainee "+names[name]+":", "trainee "+name+",", "trainee "+names[name]+",")
	}
	r, inWords := strings.NewReplacer(pairs...), namesInWords(names)
	rename := func(notes []Note) {
		for i := range notes {
			notes[i].Text = inWords(r.Replace(notes[i].Text))
		}
	}
	rename(s.Notes)
	if s.Ratings != nil {
		rename(s.Ratings.Notes)
	}
}

// renameFiles puts others in the place of names by which files, sheets and columns are called.
func (s *Study) renameFiles(names map[string]string) {
	inWords := namesInWords(names)
	long := maps.Clone(names)
	maps.DeleteFunc(long, func(name, _ string) bool { return len([]rune(name)) < 3 })
	inColumns := namesInWords(long)
	called := func(name *string, person bool) {
		extension := filepath.Ext(*name)
		if other, is := names[strings.TrimSuffix(*name, extension)]; is && person {
			*name = other + extension
			return
		}
		*name = inWords(*name)
	}
	column := func(name *string, person bool) { // A1 may be an attempt there
		if other, is := names[*name]; is && person {
			*name = other
		} else {
			*name = inColumns(*name)
		}
	}
	files, sheets, columns := false, false, s.RatingFile != nil && s.RatingFile.Wide
	for _, lf := range []*LogFile{s.AttemptFile, s.ExpertFile} {
		if lf != nil {
			files, sheets, columns = files || lf.FilesAre == asTrainee, sheets || lf.SheetsAre == asTrainee, columns || lf.ColumnsAre == asTrainee
		}
	}
	for i := range s.Files {
		f := &s.Files[i]
		f.SheetsUnread, f.ColumnsUnused, f.Columns = slices.Clone(f.SheetsUnread), slices.Clone(f.ColumnsUnused), slices.Clone(f.Columns)
		called(&f.File, files)
		called(&f.Sheet, sheets)
		for j := range f.SheetsUnread {
			called(&f.SheetsUnread[j], sheets)
		}
		for j := range f.ColumnsUnused {
			column(&f.ColumnsUnused[j], columns)
		}
		for j := range f.Columns {
			column(&f.Columns[j].Name, columns)
		}
	}
}

// namesInWords puts others in the place of names that tell who somebody is, wherever they stand.
func namesInWords(names map[string]string) func(text string) string {
	spoken := slices.DeleteFunc(sortedKeys(names), func(name string) bool { return !isName(name) })
	slices.SortStableFunc(spoken, func(a, b string) int { return len(b) - len(a) }) // "Ann Lee" before "Ann"
	return func(text string) string {
		for _, name := range spoken {
			text = replaceWord(text, name, names[name])
		}
		return text
	}
}
