"""Validates parameter files against the schema that `barrelhead schema` prints, with the jsonschema package.

Usage: check_schema.py SCHEMA FILE...

Prints a line a file: the file and `valid`, `toml` where it is no TOML at all, or `wrong` with the first place. The schema
itself must be a sound schema of its dialect.
"""

import json
import sys
import tomllib

import jsonschema


def main(schema_file, files):
    with open(schema_file, encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for name in files:
        try:
            with open(name, "rb") as file:
                tables = tomllib.load(file)
        except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
            print(f"{name}\ttoml\t{error}")
            continue
        # JSON has neither; the reader refuses both by name.
        tables = json.loads(json.dumps(tables, default=str), parse_constant=lambda name: None)
        mistakes = sorted(validator.iter_errors(tables), key=lambda mistake: list(map(str, mistake.absolute_path)))
        if mistakes:
            place = ".".join(map(str, mistakes[0].absolute_path))
            print(f"{name}\twrong\t{place}: {mistakes[0].message[:120]}")
        else:
            print(f"{name}\tvalid\t")


if __name__ == "__main__":
    main(sys.argv[1], sys.argv[2:])
