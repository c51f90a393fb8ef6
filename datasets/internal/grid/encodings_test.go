package grid

import (
	"strings"
	"testing"
)

// Bytes as the standards list them (WHATWG Encoding Standard, index of each): Ł is A3 in Windows-1250 and 氏名 is
// 8E 81 96 BC in Shift_JIS, Я is DF in Windows-1251, 한 is C7 D1 in EUC-KR, 中 is D6 D0 in GB18030 and A4 A4 in Big5.
func TestOtherAlphabets(t *testing.T) {
	for name, c := range map[string]struct{ bytes, want string }{
		"windows-1250": {"\xa3ucja", "Łucja"},
		"windows-1251": {"\xdf1", "Я1"},
		"shift_jis":    {"\x8e\x81\x96\xbc", "氏名"},
		"euc-kr":       {"\xc7\xd1", "한"},
		"gb18030":      {"\xd6\xd0", "中"},
		"big5":         {"\xa4\xa4", "中"},
	} {
		g := &Grid{File: "t.csv"}
		got, err := g.decode([]byte("code,s\n"+c.bytes+",3\n"), name)
		if err != nil || string(got) != "code,s\n"+c.want+",3\n" {
			t.Errorf("%s: %q, %v", name, got, err)
		}
	}
	g := &Grid{File: "t.csv"}
	if _, err := g.decode([]byte("\x8e\x81\x96\xbc,3\n"), ""); err == nil || !strings.Contains(err.Error(), "shift_jis") {
		t.Errorf("an encoding that nothing names: %v", err)
	}
	if _, err := g.decode([]byte("\x8e,3\n"), "shift_jis"); err == nil || !strings.Contains(err.Error(), "Shift_JIS text") {
		t.Errorf("a letter cut in two: %v", err)
	}
}

// The names that somebody gives tell the encoding where one alone has them: 氏名 is 8E 81 96 BC in Shift_JIS and
// BB E1 CC BE in EUC-JP. Names of plain letters tell nothing, nor do those that several have: ó is F3 in
// Windows-1250 and 1252 alike.
func TestEncodingOfNames(t *testing.T) {
	for _, c := range []struct {
		data  string
		names []string
		want  string
	}{
		{"\x8e\x81\x96\xbc,s\nA,3\n", []string{"氏名", "s"}, "shift_jis"},
		{"\xbb\xe1\xcc\xbe,s\nA,3\n", []string{"氏名", "s"}, "euc-jp"},
		{"\xf3\xf7\xe5\xed\xe8\xea;s\n\xc8\xe2\xe0\xed;3\n", []string{"ученик"}, "windows-1251"},
		{"pr\xf3ba,s\n\xa3,3\n", []string{"próba"}, ""},
		{"kod,s\n\xa3,3\n", []string{"kod", "s"}, ""},
		{"氏名,s\nA,3\n", []string{"氏名"}, ""},
	} {
		if got := EncodingOfNames([]byte(c.data), c.names); got != c.want {
			t.Errorf("%q with %q: %q, want %q", c.data, c.names, got, c.want)
		}
	}
}
