#!/bin/sh
# Proves small problems a second time, with HiGHS: the tiny kitchens among the test data, and random ones, as many as the argument
# says. Exit code 1 if any answer differs, 2 if HiGHS cannot be installed. The report takes up the last line.
set -eu
cd "$(dirname "$0")/../.."
mkdir -p target/report
if ! test -e target/compare/ready; then
    rm -rf target/compare
    python3 -m venv target/compare || exit 2
    target/compare/bin/pip install --quiet --requirement benches/compare/requirements.txt || exit 2
    touch target/compare/ready
fi
cargo run --quiet --locked -p rangewright-benches --bin answers -- \
    --data tests/data/kitchens/instances --filter tiny --random "${1:-60}" > target/report/answers.jsonl
status=0
target/compare/bin/python benches/compare/highs.py target/report/answers.jsonl > target/report/highs.txt || status=1
grep -v ": agree," target/report/highs.txt
exit $status
