// Package migrations carries the steps that make hodman's tables, in order. A
// step is frozen once it is merged: what has to change changes in the next one.
//
// The SQL keeps to what Postgres and the engines that speak its wire protocol
// share: composite primary keys that lead with the tenant, ids and numbers made
// by the program, no column defaults, text with a CHECK in place of enums, no
// triggers, no advisory locks, one DDL statement a step.
package migrations

import "embed"

// FS holds the steps: 000001_name.sql and so on.
//
//go:embed *.sql
var FS embed.FS

// Latest is the number of the last step, which the tables must have for this program.
const Latest = 9
