package datasets

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"tyro/datasets/problem"
)

// Consent says who agreed to what their data are used for: a column of each file, lists in
// the study file, or both; then both have to say so. What the data are used for is the
// study's purpose.
type Consent struct {
	Column string   `yaml:"column"`
	Given  []string `yaml:"given"` // words that mean consent; blank: yes, y, true, 1

	// Lists of those who agreed, by purpose; a role that has none is not asked by list.
	Trainees map[string][]string `yaml:"trainees"`
	Experts  map[string][]string `yaml:"experts"`
	Raters   map[string][]string `yaml:"raters"`
}

// purposes are what data may be used for.
var purposes = []string{"formative", "summative", "research"}

// Roles of people whose data are in a study.
const (
	asTrainee = "trainee"
	asExpert  = "expert"
	asRater   = "rater"

	asPerformance = "performance" // no person, but may be called by one
)

// Reasons for which data are left out. No note says of whom.
const (
	withdrawn    = "withdrawn"
	noConsent    = "no-consent"
	otherPurpose = "other-purpose"
)

// reasonText is a reason in words.
func (s *Study) reasonText(reason string) string {
	return map[string]string{withdrawn: "withdrawn", noConsent: "no consent", otherPurpose: "no consent to the purpose " + s.Purpose}[reason]
}

// list is who agreed, of a role, by purpose.
func (c Consent) list(role string) map[string][]string {
	return map[string]map[string][]string{asTrainee: c.Trainees, asExpert: c.Experts, asRater: c.Raters}[role]
}

// settle lists what is wrong with what is said of consent.
func (c Consent) settle(purpose string) Problems {
	var ps Problems
	bad := func(column, value, expect string, kind error) {
		ps = append(ps, Problem{File: StudyFile, Column: "privacy: consent" + column, Value: value, Expect: expect, Err: kind})
	}
	listed := false
	for _, role := range []string{asTrainee, asExpert, asRater} {
		list := c.list(role)
		listed = listed || list != nil
		for _, to := range sortedKeys(list) {
			if !slices.Contains(purposes, to) {
				bad(": "+role+"s", to, "lists of those who agreed, by purpose: formative, summative or research", problem.ErrUnknown)
			}
		}
	}
	switch {
	case c.Column == "" && !listed:
		bad(": column", "", "the column that says who consented, or lists of those who did (trainees: {research: [T1, T2]}, experts, raters)", problem.ErrMissing)
	case listed && purpose == "":
		ps = append(ps, Problem{File: StudyFile, Column: "purpose", Err: problem.ErrMissing, Expect: "what the data are used for (formative, summative or research), since consent is given to a purpose"})
	}
	return ps
}

// alike adds to those who withdrew what the study file says is the same code, so that nobody is
// kept by a spelling.
func (p *Privacy) alike(same map[string]string) {
	for _, spelling := range sortedKeys(same) {
		if code := same[spelling]; slices.Contains(p.Withdrawn, spelling) && !slices.Contains(p.Withdrawn, code) {
			p.Withdrawn = append(p.Withdrawn, code)
		}
	}
	for _, spelling := range sortedKeys(same) {
		if slices.Contains(p.Withdrawn, same[spelling]) && !slices.Contains(p.Withdrawn, spelling) {
			p.Withdrawn = append(p.Withdrawn, spelling)
		}
	}
}

// here are the names of the people whose data are in the study.
func (s *Study) here() map[string]bool {
	out := map[string]bool{}
	for _, l := range []Log{s.Attempts, s.Experts} {
		for _, a := range l.Attempts {
			out[a.Trainee] = true
		}
	}
	if s.Ratings != nil {
		for _, it := range s.Ratings.Items {
			for _, names := range [][]string{it.Raters, it.Trainees, it.Subjects} {
				for _, name := range names {
					out[name] = true
				}
			}
		}
	}
	delete(out, "")
	return out
}

// withdrawnNowhere looks for those who withdrew in what was read, under the names they are given:
// one who stands there under a name that looks like it is refused, since nobody may be kept by a
// slip of the pen, and of others it is noted how many were not found.
func (s *Study) withdrawnNowhere() Problems {
	if s.Privacy == nil || len(s.Privacy.Withdrawn) == 0 {
		return nil
	}
	found := map[string]bool{}
	for who := range s.out {
		found[who.name] = true
	}
	here := s.here()
	like := map[string]string{}
	for _, name := range sortedKeys(here) {
		like[plainCode(name)] = name
	}
	var ps Problems
	nowhere := 0
	for _, name := range s.Privacy.Withdrawn {
		if found[name] || s.spelt(name) {
			continue
		}
		nowhere++
		if other, is := like[plainCode(name)]; is && plainCode(name) != "" {
			ps = append(ps, Problem{File: StudyFile, Column: "privacy: withdrawn", Value: name, Err: problem.ErrUnknown, Expect: fmt.Sprintf("a name as the files have it; there is no %q in them, but %q: write that, or take the name out where its rows are gone and this is somebody else", name, other)})
		}
	}
	if nowhere > 0 && len(ps) == 0 {
		s.note(Note{Code: "withdrawn-not-found", Text: fmt.Sprintf("%d of %d names under privacy: withdrawn are in no file that was read; where their rows were not deleted, look at how they are written there", nowhere, len(s.Privacy.Withdrawn))})
	}
	return ps
}

// spelt reports whether a name is one of several spellings of a code.
func (s *Study) spelt(name string) bool {
	for _, same := range s.sames() {
		for spelling, code := range same {
			if spelling == name || code == name {
				return true
			}
		}
	}
	return false
}

// sames are the spellings that the study file joins, file by file.
func (s *Study) sames() []map[string]string {
	var out []map[string]string
	for _, lf := range []*LogFile{s.AttemptFile, s.ExpertFile} {
		if lf != nil {
			out = append(out, lf.Same)
		}
	}
	if s.RatingFile != nil {
		out = append(out, s.RatingFile.Same)
	}
	return out
}

// nameNobodyOut takes the names of those who are left out from what is said of the files: a file,
// a sheet or a column may be called by one, and a cell may name somebody else.
func (s *Study) nameNobodyOut() {
	if s.Privacy == nil {
		return
	}
	here := s.here()
	names := map[string]string{}
	add := func(name string) {
		if name != "" && !here[name] {
			names[name] = somebody
		}
	}
	for _, name := range s.Privacy.Withdrawn {
		add(name)
	}
	for who := range s.out {
		add(who.name)
	}
	s.renameFiles(names)
	s.renameTexts(names)
}

// somebody stands for a name that is not said.
const somebody = "somebody"

// A person is somebody in a role.
type person struct{ role, name string }

// without is the reason why somebody's data are left out; blank where they are not.
func (s *Study) without(role, name string) string {
	p := s.Privacy
	switch {
	case p == nil || name == "":
		return ""
	case slices.Contains(p.Withdrawn, name):
		return withdrawn
	case s.out[person{role, name}] != "":
		return s.out[person{role, name}]
	case p.Consent == nil || p.Consent.list(role) == nil:
		return ""
	}
	list := p.Consent.list(role)
	if slices.Contains(list[s.Purpose], name) {
		return ""
	}
	for _, who := range list {
		if slices.Contains(who, name) {
			return otherPurpose
		}
	}
	return noConsent
}

var (
	purposeWord = regexp.MustCompile(`(?i)\b(formative|summative|research)\b`)
	purposeOnly = regexp.MustCompile(`(?i)^(?:(?:yes|y)\b[\s,;:]*(?:to|for)?\s*)?(?:(?:formative|summative|research)(?:[\s,;/+&|]|and|only|alone)*)+$`)
	saysNo      = []string{"", "no", "n", "false", "0", "none", "withdrawn"}
)

// consents reads a cell of the consent column: a word that means consent, or the purposes
// agreed to. Unclear is a cell that is neither, nor a plain no.
func (s *Study) consents(cell string) (reason string, unclear bool) {
	c := s.Privacy.Consent
	words := c.Given
	if len(words) == 0 {
		words = []string{"yes", "y", "true", "1"}
	}
	same := func(w string) bool { return strings.EqualFold(w, cell) }
	switch {
	case slices.ContainsFunc(words, same):
		return "", false
	case purposeOnly.MatchString(cell):
		for _, to := range purposeWord.FindAllString(cell, -1) {
			if strings.EqualFold(to, s.Purpose) {
				return "", false
			}
		}
		return otherPurpose, s.Purpose == ""
	}
	return noConsent, !slices.ContainsFunc(saysNo, same)
}

// A leaver leaves out the rows of a table whose people withdrew or did not consent.
type leaver struct {
	study *Study
	table *table
	note  func(code, text string)
	bad   func(column, value, expect string, kind error)
}

// byName leaves out rows by whom they name in a role.
func (l leaver) byName(role string, of func(i int) string) {
	l.leave(role, func(i int) (string, string) { return l.study.without(role, of(i)), of(i) })
}

// byColumn leaves out rows by the column of consent. A file without the column is noted, and
// refused where it must have it.
func (l leaver) byColumn(role string, must bool, who func(i int) string) (named string) {
	p := l.study.Privacy
	if p.Consent == nil || p.Consent.Column == "" {
		return ""
	}
	j := l.table.column(p.Consent.Column)
	if j < 0 && must {
		l.bad(p.Consent.Column, "", "a column that says who consented", problem.ErrMissing)
		return ""
	}
	if j < 0 {
		return ""
	}
	if l.changesMind(j, who) {
		return p.Consent.Column
	}
	unclear, example := 0, ""
	l.leave(role, func(i int) (string, string) {
		reason, odd := l.study.consents(l.table.text(i, j))
		if odd {
			unclear, example = unclear+1, l.table.text(i, j)
		}
		return reason, who(i)
	})
	switch {
	case unclear > 0 && purposeOnly.MatchString(example):
		l.bad(p.Consent.Column, example, "a study file that says what the data are used for (purpose), since consent is given to a purpose", problem.ErrMissing)
	case unclear > 0:
		l.note("consent-unclear", fmt.Sprintf("%s: %d rows have %q in column %s, which is no plain yes or no, and are left out; say under privacy: consent: given: which words mean consent", l.table.file, unclear, problem.Clip(example), p.Consent.Column))
	}
	return p.Consent.Column
}

// changesMind refuses a column of consent in which somebody agrees in one row and not in another:
// half of their attempts would be taken, and the other half not.
func (l leaver) changesMind(j int, who func(i int) string) bool {
	agreed, not := map[string]int{}, map[string]int{} // the first such row
	see := func(rows map[string]int, name string, i int) {
		if _, seen := rows[name]; !seen {
			rows[name] = i
		}
	}
	for i := range l.table.rows() {
		if reason, _ := l.study.consents(l.table.text(i, j)); reason == "" {
			see(agreed, who(i), i)
		} else {
			see(not, who(i), i)
		}
	}
	for _, name := range sortedKeys(not) {
		if yes, both := agreed[name]; both && name != "" {
			l.bad(l.study.Privacy.Consent.Column, l.table.text(not[name], j), fmt.Sprintf("one answer of a person in all rows; the same person agrees in line %d and not in line %d (where not every row says it, list those who agreed under privacy: consent, without a column)", l.table.line(yes), l.table.line(not[name])), problem.ErrDuplicate)
			return true
		}
	}
	return false
}

// leave drops rows for a reason, and counts them and their people, who are left out of the files
// read later too.
func (l leaver) leave(role string, of func(i int) (reason, who string)) {
	rows, people := map[string]int{}, map[string]map[string]bool{}
	l.table.dropRows(func(i int) string {
		reason, who := of(i)
		if reason == "" {
			return ""
		}
		if people[reason] == nil {
			people[reason] = map[string]bool{}
		}
		if who != "" {
			l.study.out[person{role, who}] = reason
		}
		rows[reason]++
		people[reason][who] = true
		return l.study.reasonText(reason)
	})
	for _, reason := range sortedKeys(rows) {
		of := fmt.Sprintf(" of %d people", len(people[reason]))
		switch {
		case people[reason][""]:
			of = ""
		case len(people[reason]) == 1:
			of = " of 1 person"
		}
		l.note(reason, fmt.Sprintf("%s: %d rows%s are left out (%s)", l.table.file, rows[reason], of, l.study.reasonText(reason)))
	}
}

// noteUnasked notes a file that says nothing of its people's consent, neither by a list of
// their role nor by a column.
func (l leaver) noteUnasked(role string, byColumn bool) {
	if c := l.study.Privacy.Consent; c != nil && c.list(role) == nil && !byColumn {
		l.note("consent-not-asked", fmt.Sprintf("%s: nothing says whether the %ss consented, and all are taken; list them under privacy: consent: %ss: in the study file, or put the column of consent into the file", l.table.file, role, role))
	}
}

// honour leaves out the rows of people who withdrew or did not consent, before anything is
// made of them; nothing says who they were.
func (r *logReader) honour() {
	if r.study.Privacy == nil {
		return
	}
	role := asTrainee
	if r.expert {
		role = asExpert
	}
	l := leaver{r.study, r.table, r.note, func(column, value, expect string, kind error) {
		r.bad(r.table.headLine(), column, value, expect, kind)
	}}
	who := r.texts(r.cols.Trainee)
	l.byName(role, who)
	c := r.study.Privacy.Consent
	column := l.byColumn(role, role == asTrainee && c != nil && c.list(role) == nil, who)
	if column != "" {
		r.named = append(r.named, column)
	}
	if role != asTrainee {
		l.noteUnasked(role, column != "")
	}
}

// honour leaves out ratings of trainees, and by raters, who withdrew or did not consent: rows
// that name them, and columns of a wide table.
func (rf RatingsFile) honour(s *Study, t *table, bad func(column, value, expect string, kind error)) {
	if s == nil || s.Privacy == nil {
		return
	}
	l := leaver{s, t, t.note, bad}
	at := func(name string) func(i int) string {
		j := t.column(name)
		return func(i int) string { return rf.joined(t.text(i, j)) }
	}
	for _, c := range []struct{ column, role string }{{rf.Trainee, asTrainee}, {cmp.Or(rf.Subject, "subject"), asTrainee}, {cmp.Or(rf.Rater, "rater"), asRater}} {
		if c.column == "" || t.column(c.column) < 0 {
			continue
		}
		known := at(c.column)
		if c.column != rf.Trainee && c.role == asTrainee { // a performance may have any name, and is left out only where it is somebody's who is out
			all := known
			known = func(i int) string {
				if name := all(i); s.listed(name) {
					return name
				}
				return ""
			}
		}
		l.byName(c.role, known)
	}
	column := l.byColumn("", false, func(int) string { return "" })
	if rf.Wide {
		rf.dropRaters(s, t)
	}
	l.noteUnasked(asRater, column != "")
}

// joined is a name, or the code that is said to be meant by its spelling.
func (rf RatingsFile) joined(name string) string {
	if same, ok := rf.Same[name]; ok {
		return same
	}
	return name
}

// listed reports whether somebody is known to have withdrawn, to be left out, or to be a
// trainee who agreed to some purpose.
func (s *Study) listed(name string) bool {
	if slices.Contains(s.Privacy.Withdrawn, name) || s.out[person{asTrainee, name}] != "" {
		return true
	}
	if s.Privacy.Consent == nil {
		return false
	}
	for _, who := range s.Privacy.Consent.Trainees {
		if slices.Contains(who, name) {
			return true
		}
	}
	return false
}

// dropRaters takes the columns of raters out of a wide table who withdrew or did not consent.
func (rf RatingsFile) dropRaters(s *Study, t *table) {
	subject := cmp.Or(rf.Subject, "subject")
	if t.column(subject) < 0 && len(t.header) > 0 {
		subject = t.header[0]
	}
	n := map[string]int{}
	for j := len(t.header) - 1; j >= 0; j-- {
		name := t.header[j]
		if name == "" || name == subject || slices.Contains(rf.Ignore, name) || noRaters.MatchString(name) {
			continue
		}
		if reason := s.without(asRater, rf.joined(name)); reason != "" {
			s.out[person{asRater, name}], s.out[person{asRater, rf.joined(name)}] = reason, reason
			t.header, t.cols = slices.Delete(slices.Clone(t.header), j, j+1), slices.Delete(slices.Clone(t.cols), j, j+1)
			n[reason]++
		}
	}
	for _, reason := range sortedKeys(n) {
		t.note(reason, fmt.Sprintf("%s: columns of %d raters are left out (%s)", t.file, n[reason], s.reasonText(reason)))
	}
}
