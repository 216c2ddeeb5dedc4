#!/bin/sh
# install.sh FOLDER: a Debian 13 beside the system, whose Neovim, Emacs and Helix are newer than those of Debian 12 (about 680 MB).
set -eu
command -v debootstrap >/dev/null || { echo "please install debootstrap" >&2; exit 1; }
exec debootstrap --variant=minbase --include=neovim,emacs-nox,hx trixie "$1" >/dev/null
