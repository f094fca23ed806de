#!/bin/sh
# Proves small problems a second time, with HiGHS: the tiny kitchens among the test data, and random ones. Fails if any answer
# differs. The report takes up the last line.
set -eu
cd "$(dirname "$0")/../.."
mkdir -p target/report
if ! test -x target/compare/bin/python; then
    python3 -m venv target/compare
    target/compare/bin/pip install --quiet --requirement benches/compare/requirements.txt
fi
cargo run --quiet --release -p rangewright-benches --bin answers -- \
    --data tests/data/kitchens/instances --filter tiny --random "${1:-60}" > target/report/answers.jsonl
target/compare/bin/python benches/compare/highs.py target/report/answers.jsonl > target/report/highs.txt || {
    cat target/report/highs.txt
    exit 1
}
cat target/report/highs.txt
