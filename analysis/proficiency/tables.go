package proficiency

import (
	"math"
	"sync"

	"tyro/models"
)

// Tables hold what hangs on the attempts up to the horizon alone, for all curves and
// trainees. They may be shared by goroutines.
type tables struct {
	horizon int
	powers  *models.Falls // of the attempts

	mu     sync.Mutex
	alongs map[models.Family]*models.Along
}

func newTables(horizon int) *tables {
	logs := make([]float64, horizon)
	for i := range logs {
		logs[i] = math.Log(float64(i + 1))
	}
	return &tables{horizon: horizon, powers: models.NewFalls(logs), alongs: map[models.Family]*models.Along{}}
}

// along is what serves all curves of a family.
func (t *tables) along(f models.Family) *models.Along {
	t.mu.Lock()
	defer t.mu.Unlock()
	a, known := t.alongs[f]
	if !known {
		a = models.NewAlong(f, t.horizon)
		t.alongs[f] = a
	}
	return a
}
