package datasets

import (
	"fmt"
	"strings"

	"tyro/datasets/internal/grid"
	"tyro/datasets/internal/pattern"
)

// worded is a date with its month as a word: 2 mars 2026, 24. févr. 2026, 3 de mayo de 2026.
var worded = pattern.New(`^(\d{1,2})(?:er|º|\.)?[ -](?:de )?(\pL{3,})\.?[ ,-]+(?:de )?(\d{4})$`)

// monthWords are the names of months and how they are cut short, from January on, in languages that the clock of
// the library does not know. Words that two languages have for different months are left out.
var monthWords = [12]string{
	"janvier janv jän jänner januar januari enero ene gennaio gen janeiro stycznia sty ledna ocak tammikuuta января янв",
	"février fevrier févr fevr februar februari febrero febbraio fevereiro fev lutego lut února şubat helmikuuta февраля фев",
	"mars märz mär mrz maart mrt marzo março marts marca března mart maaliskuuta марта",
	"avril avr april abril abr aprile kwietnia kwi dubna nisan huhtikuuta апреля апр",
	"mai mei mayo maggio mag maio maj maja května mayıs toukokuuta мая",
	"juin juni junio giugno giu junho czerwca cze června haziran kesäkuuta июня",
	"juillet juil juli julio luglio lug julho lipca lip července temmuz heinäkuuta июля",
	"août aout august augustus augusti agosto ago sierpnia sie srpna ağustos elokuuta августа авг",
	"septembre sept september septiembre setiembre settembre setembro set września wrz září eylül syyskuuta сентября сен сент",
	"octobre oktober okt octubre ottobre ott outubro out oktobra października paź října ekim lokakuuta октября окт",
	"novembre november noviembre novembro kasım marraskuuta ноября ноя",
	"décembre decembre déc dezember dez december desember des diciembre dic dicembre dezembro grudnia gru prosince aralık joulukuuta декабря дек",
}

var monthOf = func() map[string]int {
	out := map[string]int{}
	for k, words := range monthWords {
		for _, w := range strings.Fields(words) {
			out[w] = k + 1
		}
	}
	return out
}()

// wordedDate reads a date with its month as a word of another language than English.
func wordedDate(cell string) (string, bool) {
	m := worded.FindStringSubmatch(strings.ToLower(cell))
	if m == nil {
		return "", false
	}
	month := monthOf[m[2]]
	if month == 0 {
		return "", false
	}
	d := fmt.Sprintf("%s-%02d-%02d", m[3], month, int(grid.Number(m[1])))
	return d, isDate(d)
}
