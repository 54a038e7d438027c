#!/bin/sh
# Real sounds that are no washer, from packages of Debian 12: music, engines, surf, fires, trains. Nothing of it is
# kept in this project. Takes 350 MB and `ffmpeg`; then `washer-noise triage FOLDER/clips --csv` names no part of any.
#
#   sh tests/tools/packaged-sounds.sh FOLDER
set -eu
folder=${1:?where to put them}
mkdir -p "$folder/packages" "$folder/clips"
cd "$folder/packages"
apt-get download asterisk-moh-opsound-wav colobot-common-sounds freeciv-data hedgewars-data lincity-ng-data \
  searchandrescue-data sonic-pi-samples
for package in *.deb; do dpkg-deb -x "$package" "${package%%_*}"; done
find . -type f \( -name '*.ogg' -o -name '*.wav' -o -name '*.flac' \) | sort | while read -r sound; do
  seconds=$(ffprobe -v error -show_entries format=duration -of csv=p=0 "$sound" | cut -d. -f1)
  case $seconds in '' | *[!0-9]*) continue ;; esac
  [ "$seconds" -ge 5 ] || continue
  # Out of the middle of a piece of music, else from the start.
  from=0
  [ "$seconds" -le 40 ] || from=$((seconds / 2))
  name=$(echo "$sound" | cut -d/ -f2,3- | tr -c 'A-Za-z0-9\n' '-' | tail -c 60)
  ffmpeg -v error -nostdin -y -ss "$from" -i "$sound" -t 15 -ac 1 -ar 48000 -c:a aac -b:a 96k "../clips/$name.m4a"
done
ls ../clips | wc -l
