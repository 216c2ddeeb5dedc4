"""Verifies the chain of a record of Dwell, format 2, with nothing but Python: python3 verify_record.py FILE.jsonl"""
import hashlib, json, sys

previous = "0" * 64
number = 0
for number, line in enumerate(open(sys.argv[1], "rb").read().splitlines(), 1):
    says = json.loads(line)
    bare = line.replace(b',"hash":"%s"}' % says["hash"].encode(), b"}")
    if says["seq"] != number or says["previous"] != previous:
        sys.exit(print(f"line {number} does not follow the line before") or 1)
    if hashlib.sha256(bare).hexdigest() != says["hash"]:
        sys.exit(print(f"line {number} is not as it was written") or 1)
    previous = says["hash"]
print(f"{number} lines are as they were written; the last hash is {previous}")
