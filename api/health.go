package api

import (
	"context"
	"net/http"
	"time"

	"github.com/go-json-experiment/json"
)

// health says how the service is.
type health struct {
	Status string `json:"status"`
}

// readyWithin is how long the database may take to say that it is there.
const readyWithin = time.Second

// GetLive says that the process answers.
func (s *server) GetLive(context.Context, GetLiveRequestObject) (GetLiveResponseObject, error) {
	return well()
}

// GetReady says whether requests can be served now.
func (s *server) GetReady(ctx context.Context, _ GetReadyRequestObject) (GetReadyResponseObject, error) {
	ctx, cancel := context.WithTimeout(ctx, readyWithin)
	defer cancel()
	if err := s.svc.Ready(ctx); err != nil {
		return nil, err
	}
	return well()
}

func well() (*reply, error) {
	body, err := json.Marshal(health{Status: "pass"})
	return &reply{status: http.StatusOK, media: "application/health+json", body: body}, err
}
