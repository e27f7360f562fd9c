"""Judges the interface's document and its answers by a validator of others.

Usage: openapi.py FOLDER, where document.json is the OpenAPI document and each
answers/N.json holds {"method", "path", "status", "body"}. Ends with 1 and a
line for each fault. Needs openapi-spec-validator (which brings jsonschema).
"""

import json
import pathlib
import sys

from jsonschema import Draft202012Validator
from openapi_spec_validator import OpenAPIV31SpecValidator

folder = pathlib.Path(sys.argv[1])
document = json.loads((folder / "document.json").read_text())
faults = [f"document: {fault.message}" for fault in OpenAPIV31SpecValidator(document).iter_errors()]

judged = 0
for file in sorted((folder / "answers").iterdir()):
    answer = json.loads(file.read_text())
    name = f"{answer['method']} {answer['path']}"
    responses = document["paths"][answer["path"]][answer["method"]]["responses"]
    response = responses.get(str(answer["status"]), responses["default"])
    if "content" not in response:
        continue
    schema = response["content"]["application/json"]["schema"]
    # References lead into the document, so the document goes along.
    whole = {"components": document["components"], **schema}
    for fault in Draft202012Validator(whole).iter_errors(answer["body"]):
        faults.append(f"{name}: at {fault.json_path}: {fault.message[:300]}")
    judged += 1

for fault in faults:
    print(fault)
print(f"{judged} answers judged, {len(faults)} faults")
sys.exit(1 if faults or judged == 0 else 0)
