package store_test

import (
	"slices"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"hodman/migrations"
	"hodman/store/storetest"
)

// What keeps the tables fit for engines that share data out by tenant is read
// from the catalogue of a migrated database, so that no way of writing it slips by.
func TestTablesKeepTheRules(t *testing.T) {
	t.Parallel()
	c, err := pgx.Connect(t.Context(), storetest.URL(t))
	if err != nil {
		t.Fatal(err)
	}
	defer c.Close(t.Context())
	for name, rule := range map[string]struct {
		breaches string // SQL that lists what breaks the rule
		allowed  []string
	}{
		"every table has a tenant": {`
			SELECT c.relname FROM pg_class c JOIN ours o ON o.oid = c.oid
			WHERE NOT EXISTS (SELECT 1 FROM pg_attribute a WHERE a.attrelid = c.oid AND a.attname = 'tenant_id' AND a.attnotnull)`, nil},
		"every table has a primary key": {`
			SELECT c.relname FROM pg_class c JOIN ours o ON o.oid = c.oid
			WHERE NOT EXISTS (SELECT 1 FROM pg_index i WHERE i.indrelid = c.oid AND i.indisprimary)`, nil},
		"every index leads with the tenant": {`
			SELECT i.indexrelid::regclass::text FROM pg_index i JOIN ours o ON o.oid = i.indrelid
			JOIN pg_attribute a ON a.attrelid = i.indrelid AND a.attnum = i.indkey[0]
			WHERE a.attname <> 'tenant_id'`,
			[]string{"access_keys_prefix_key", "tenants_name_key"}}, // the directories in which a tenant is looked up
		"every foreign key leads with the tenant": {`
			SELECT k.conname FROM pg_constraint k JOIN ours o ON o.oid = k.conrelid
			JOIN pg_attribute a ON a.attrelid = k.conrelid AND a.attnum = k.conkey[1]
			WHERE k.contype = 'f' AND (a.attname <> 'tenant_id' OR k.condeferrable)`, nil},
		"only types that the engines share": {`
			SELECT c.relname || '.' || a.attname || ' ' || format_type(a.atttypid, a.atttypmod)
			FROM pg_attribute a JOIN ours o ON o.oid = a.attrelid JOIN pg_class c ON c.oid = a.attrelid
			WHERE a.attnum > 0 AND NOT a.attisdropped AND format_type(a.atttypid, NULL) NOT IN
				('uuid', 'text', 'boolean', 'integer', 'bigint', 'numeric', 'date', 'timestamp with time zone', 'jsonb', 'bytea', 'text[]')`, nil},
		"no number made by the database": {`
			SELECT c.relname || '.' || a.attname FROM pg_attribute a JOIN ours o ON o.oid = a.attrelid JOIN pg_class c ON c.oid = a.attrelid
			WHERE a.attnum > 0 AND (a.attidentity <> '' OR a.attgenerated <> '' OR a.atthasdef)`, nil},
		"no triggers": {`SELECT tgname::text FROM pg_trigger g JOIN ours o ON o.oid = g.tgrelid WHERE NOT g.tgisinternal`, nil},
	} {
		rows, err := c.Query(t.Context(), `
			WITH ours AS (SELECT oid FROM pg_class WHERE relnamespace = 'public'::regnamespace AND relkind = 'r' AND relname NOT LIKE 'goose%')`+rule.breaches+` ORDER BY 1`)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		found, err := pgx.CollectRows(rows, pgx.RowTo[string])
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		if !slices.Equal(found, rule.allowed) {
			t.Errorf("%s: broken by %q, allowed are %q", name, found, rule.allowed)
		}
	}
}

// A step holds one statement that can be run again, and says why it is there.
func TestStepsKeepTheRules(t *testing.T) {
	t.Parallel()
	steps, err := migrations.FS.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	if len(steps) != migrations.Latest {
		t.Errorf("%d steps, but the latest is said to be %d", len(steps), migrations.Latest)
	}
	for _, step := range steps {
		b, err := migrations.FS.ReadFile(step.Name())
		if err != nil {
			t.Fatal(err)
		}
		var code, comments []string
		for line := range strings.Lines(string(b)) {
			switch {
			case strings.HasPrefix(line, "-- +goose"):
			case strings.HasPrefix(line, "--"):
				comments = append(comments, line)
			default:
				code = append(code, line)
			}
		}
		sql := strings.Join(code, "")
		again := !strings.Contains(sql, "CREATE ") || strings.Contains(sql, "IF NOT EXISTS")
		if strings.Count(sql, ";") != 1 || !again || len(comments) == 0 {
			t.Errorf("%s: want one statement that can be run again, and a comment that says why", step.Name())
		}
	}
}
