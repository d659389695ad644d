#!/bin/bash
# Starts PostgreSQL in a container, and makes its cluster at the first start.
# POSTGRES_PASSWORD is needed then; POSTGRES_USER is postgres and POSTGRES_DB the
# user's name where they are not given.
set -euo pipefail

bin=$(printf '%s\n' /usr/lib/postgresql/*/bin | sort -V | tail -1)
export PATH=$bin:$PATH
export PGDATA=${PGDATA:-/var/lib/postgresql/data}
user=${POSTGRES_USER:-postgres}
database=${POSTGRES_DB:-$user}

if [ "${1:-postgres}" != postgres ]; then
	exec "$@"
fi
if [ "$(id -u)" = 0 ]; then
	# PostgreSQL refuses to run as root; a mounted folder may be root's.
	install -d -o postgres -g postgres -m 700 "$PGDATA"
	exec setpriv --reuid postgres --regid postgres --init-groups "$0" "$@"
fi

if [ ! -s "$PGDATA/PG_VERSION" ]; then
	: "${POSTGRES_PASSWORD:?give a password for the first start}"
	initdb -D "$PGDATA" -E UTF8 --locale=C.UTF-8 -U "$user" \
		--auth=scram-sha-256 --pwfile=<(printf '%s\n' "$POSTGRES_PASSWORD")
	printf 'local all all scram-sha-256\nhost all all all scram-sha-256\n' >"$PGDATA/pg_hba.conf"
	# The database is made over the socket, before anyone can connect from outside.
	pg_ctl -D "$PGDATA" -w -o '-c listen_addresses=' start
	if [ "$database" != postgres ]; then
		PGPASSWORD=$POSTGRES_PASSWORD createdb -h /var/run/postgresql -U "$user" "$database"
	fi
	pg_ctl -D "$PGDATA" -w -m fast stop
fi

shift || true
exec postgres -D "$PGDATA" -c listen_addresses='*' "$@"
