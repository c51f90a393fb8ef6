package reports

import (
	"fmt"
	"reflect"
	"regexp"
	"slices"
	"strings"

	"tyro/analysis/study"
)

// Shown says which part of an answer a document shows. The answer itself is of everybody.
type Shown struct {
	Only    []string `json:"only"`     // trainees; null for all
	ArmOnly string   `json:"arm_only"` // blank for all
	UpTo    string   `json:"up_to"`    // day as of which the study was looked at; blank for all there is

	hidden []string // trainees who are not shown
}

// ask takes over how the answer was asked for.
func (h *Header) ask(s *study.Study) {
	r := s.Options.Request
	h.CommandLine, h.Flags = r.CommandLine, r.Flags
	if h.Flags == nil {
		h.Flags = map[string]any{}
	}
	if r.Only == nil && r.Arm == "" && r.UpTo == "" {
		return
	}
	h.Shown = &Shown{Only: r.Only, ArmOnly: r.Arm, UpTo: r.UpTo}
	for _, t := range s.Trainees {
		if r.Hides(t.ID, t.Arm) {
			h.Shown.hidden = append(h.Shown.hidden, t.ID)
		}
	}
	if text := h.Shown.text(len(s.Trainees)); text != "" {
		h.Warn("part-shown", text)
	}
}

// text says what is shown, where it is not everybody.
func (w Shown) text(all int) string {
	var parts []string
	if w.Only != nil {
		parts = append(parts, "of trainees, "+strings.Join(w.Only, ", ")+" alone")
	}
	if w.ArmOnly != "" {
		parts = append(parts, "of arms, "+w.ArmOnly+" alone")
	}
	if parts == nil {
		return ""
	}
	return fmt.Sprintf("shown is, %s; everything was computed from all %d trainees", strings.Join(parts, ", and "), all)
}

// Narrow keeps of a document what its Shown says: rows of other trainees and other arms
// go, with warnings that name nobody else. Rows of all together, and rows that set an arm
// shown against another, stay.
func Narrow(d Document) {
	w := d.Head().Shown
	if w == nil || w.Only == nil && w.ArmOnly == "" {
		return
	}
	w.narrow(reflect.ValueOf(d))
	d.Head().Warnings = slices.DeleteFunc(d.Head().Warnings, w.namesOthers)
}

// narrow walks through what a document shows to programs.
func (w *Shown) narrow(v reflect.Value) {
	switch v.Kind() {
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			w.narrow(v.Elem())
		}
	case reflect.Struct:
		for i := range v.NumField() {
			f := v.Type().Field(i)
			if (f.IsExported() || f.Anonymous) && f.Tag.Get("json") != "-" && f.Type != reflect.TypeFor[*Shown]() {
				w.narrow(v.Field(i))
			}
		}
	case reflect.Slice:
		kept := 0
		for i := range v.Len() {
			if w.hides(v.Index(i)) {
				continue
			}
			if v.CanSet() && kept != i {
				v.Index(kept).Set(v.Index(i))
			}
			kept++
		}
		if v.CanSet() && kept < v.Len() {
			v.SetLen(kept)
		}
		for i := range v.Len() {
			w.narrow(v.Index(i))
		}
	}
}

// hides reports whether a row is of a trainee or an arm that is not shown.
func (w *Shown) hides(row reflect.Value) bool {
	for row.Kind() == reflect.Pointer && !row.IsNil() {
		row = row.Elem()
	}
	if row.Kind() != reflect.Struct {
		return false
	}
	trainee, _ := textField(row, "trainee")
	cell, _ := textField(row, "cell") // of a file, as an example
	if slices.Contains(w.hidden, trainee) || slices.Contains(w.hidden, cell) {
		return true
	}
	arm, ofArm := textField(row, "arm")
	reference, _ := textField(row, "reference")
	return w.ArmOnly != "" && ofArm && arm != "" && arm != w.ArmOnly && reference != w.ArmOnly
}

// textField is the text of a struct's field that machine output has under a name.
func textField(v reflect.Value, name string) (string, bool) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		if tag, _, _ := strings.Cut(f.Tag.Get("json"), ","); tag == name && f.Type.Kind() == reflect.String {
			return v.Field(i).String(), true
		}
	}
	return "", false
}

// namesOthers reports whether a warning is about trainees of whom none is shown.
func (w *Shown) namesOthers(x Warning) bool {
	if x.Code == "part-shown" {
		return false
	}
	named := func(ids []string) bool {
		return slices.ContainsFunc(ids, func(id string) bool {
			if id == "" || !strings.Contains(x.Text, id) {
				return false
			}
			return regexp.MustCompile(`(^|[^\pL\pN])` + regexp.QuoteMeta(id) + `($|[^\pL\pN])`).MatchString(x.Text)
		})
	}
	return named(w.hidden) && !named(w.Only)
}

// ShowsTrainee reports whether a trainee is among those shown.
func (h *Header) ShowsTrainee(id string) bool {
	return h.Shown == nil || !slices.Contains(h.Shown.hidden, id)
}

// ShowsArm reports whether an arm is shown; all trainees together, blank, always are.
func (h *Header) ShowsArm(arm string) bool {
	return h.Shown == nil || h.Shown.ArmOnly == "" || arm == "" || arm == h.Shown.ArmOnly
}
