# Functions of the set-up scripts. Each checks whether something is installed and installs only what is missing. If that
# fails, it says which package is missing and how to get it, and exits. To be sourced, not run.

lacking() {
  printf '\nMissing: %s\n  To get it: %s\n' "$1" "$2" >&2
  exit 1
}

# need_rust: cargo, and the target that browsers run.
need_rust() {
  command -v cargo >/dev/null || lacking "Rust (cargo)" "install rustup, then: rustup toolchain install stable"
  [ -d "$(rustc --print sysroot)/lib/rustlib/wasm32-unknown-unknown/lib" ] && return
  command -v rustup >/dev/null || lacking "the Rust target wasm32-unknown-unknown" \
    "install rustup, then: rustup target add wasm32-unknown-unknown (a compiler of the system needs its own package of that target)"
  rustup target add wasm32-unknown-unknown || lacking "the Rust target wasm32-unknown-unknown" \
    "with a network: rustup target add wasm32-unknown-unknown"
}

# need_rust_tool COMMAND=COMPONENT...: parts of the toolchain that a minimal install leaves out.
need_rust_tool() {
  local pair
  for pair in "$@"; do
    cargo "${pair%%=*}" --version >/dev/null 2>&1 && continue
    rustup component add "${pair#*=}" || lacking "${pair#*=}" "with a network: rustup component add ${pair#*=}"
  done
}

# need_cargo_tool COMMAND=PACKAGE...: commands of cargo that are packages of the registry.
need_cargo_tool() {
  local pair
  for pair in "$@"; do
    cargo "${pair%%=*}" --version >/dev/null 2>&1 && continue
    cargo install --locked "${pair#*=}" || lacking "${pair#*=}" "with a network: cargo install --locked ${pair#*=}"
  done
}

# need_node: Node.js 20 or newer, with npm.
need_node() {
  command -v node >/dev/null && command -v npm >/dev/null || lacking "Node.js 20 with npm" "install Node.js 20 or newer"
  local major
  major=$(node --print 'process.versions.node.split(".")[0]')
  [ "$major" -ge 20 ] || lacking "Node.js 20 (this is $(node --version))" "install Node.js 20 or newer"
}

# need_npm FOLDER: the packages in FOLDER/package.json; they are installed again only when that file has changed.
need_npm() {
  local folder=$1 stamp=$1/node_modules/.installed sum
  sum=$(cat "$folder/package.json" "$folder/.npmrc" | sha256sum)
  [ -e "$stamp" ] && [ "$(cat "$stamp")" = "$sum" ] && return
  (cd "$folder" && PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD=1 npm install --no-progress) ||
    lacking "the npm packages of $folder/package.json" "with a network: cd $folder && npm install"
  printf '%s\n' "$sum" >"$stamp"
}

# need_apt FILE=PACKAGE...: the Debian package of each file or command that is not there.
need_apt() {
  local pair missing=()
  for pair in "$@"; do
    compgen -G "${pair%%=*}" >/dev/null || command -v "${pair%%=*}" >/dev/null || missing+=("${pair#*=}")
  done
  [ ${#missing[@]} -eq 0 ] && return
  local how="apt-get install ${missing[*]}" as_root=()
  command -v apt-get >/dev/null || lacking "${missing[*]}" "this is no Debian: install what Debian calls ${missing[*]}"
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null || lacking "${missing[*]}" "as root: $how"
    as_root=(sudo)
  fi
  "${as_root[@]}" apt-get update -q || lacking "${missing[*]}" "with a network: sudo apt-get update && sudo $how"
  "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get install -q -y "${missing[@]}" ||
    lacking "${missing[*]}" "with a network: sudo $how"
}
