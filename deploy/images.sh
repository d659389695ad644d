#!/usr/bin/env bash
# Makes the two images that docker-compose.yml stands on out of Debian packages
# alone, for a machine whose Docker reaches no registry:
#
#   hodman-base:bookworm        Debian, nothing more
#   hodman-postgres:bookworm    the same with Debian's own PostgreSQL
#
# It needs root, debootstrap and a Docker engine. An image that is there already
# is kept; say --again to make both anew. MIRROR is where packages come from; where
# it is not given, where this machine's own do.
set -euo pipefail
cd "$(dirname "$0")"

suite=bookworm
mirror=${MIRROR:-$(apt-get indextargets --format '$(REPO_URI)' 'Created-By: Packages' | sed -n 1p)}
base=hodman-base:$suite
postgres=hodman-postgres:$suite

have() { [ "${again:-}" != 1 ] && docker image inspect "$1" >/dev/null 2>&1; }
[ "${1:-}" = --again ] && again=1

if have "$base" && have "$postgres"; then
	echo "$base and $postgres are there"
	exit 0
fi
[ "$(id -u)" = 0 ] || { echo "images.sh: debootstrap needs root" >&2; exit 1; }
command -v debootstrap >/dev/null || { echo "images.sh: install debootstrap first" >&2; exit 1; }

root=$(mktemp -d "${TMPDIR:-/tmp}/hodman-image.XXXXXX")
tidy() {
	# Nothing is mounted under it, and --one-file-system keeps it so.
	rm -rf --one-file-system "$root"
}
trap tidy EXIT

# import makes an image of the folder as it stands. Package lists and archives stay out.
import() {
	tar -C "$root" -c --numeric-owner --one-file-system \
		--exclude=./var/lib/apt/lists/* --exclude=./var/cache/apt/* --exclude=./usr/share/doc/* \
		--exclude=./usr/share/man/* --exclude=./usr/share/locale/* --exclude=./dev/* --exclude=./tmp/* . |
		docker import --change 'ENV PATH=/usr/local/sbin:/usr/local/bin:/usr/sbin:/usr/bin:/sbin:/bin' \
			--change 'ENV LANG=C.UTF-8' --change 'CMD ["bash"]' - "$1"
}

echo "making $base"
debootstrap --variant=minbase "$suite" "$root" "$mirror" >"$root.log" 2>&1 ||
	{ tail -20 "$root.log" >&2; exit 1; }
rm -f "$root.log"
import "$base"

echo "making $postgres"
# The package would make a cluster of its own at once; the container makes one at
# its first start, with the name and password it is given.
install -d "$root/etc/postgresql-common"
echo 'create_main_cluster = false' >"$root/etc/postgresql-common/createcluster.conf"
printf '#!/bin/sh\nexit 101\n' >"$root/usr/sbin/policy-rc.d"
chmod +x "$root/usr/sbin/policy-rc.d"
chroot "$root" env DEBIAN_FRONTEND=noninteractive \
	apt-get install -y -q --no-install-recommends postgresql >/dev/null
install -m 755 postgres/entrypoint.sh "$root/usr/local/bin/entrypoint.sh"
chroot "$root" install -d -o postgres -g postgres -m 700 /var/lib/postgresql/data
chroot "$root" install -d -o postgres -g postgres -m 2775 /var/run/postgresql
import "$postgres-bare"
docker build -q -t "$postgres" --build-arg "BASE=$postgres-bare" postgres
docker image rm "$postgres-bare" >/dev/null 2>&1 || true
