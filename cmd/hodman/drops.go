package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"hodman/service/drop"
)

func dropsCommand(ctx context.Context, p *process, args []string) error {
	return compute(ctx, p, "drops", "/v1/drop-plans", args, showDrops)
}
