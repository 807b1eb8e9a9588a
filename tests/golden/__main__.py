"""Write what is read from the demo notes anew: `python -m tests.golden`."""

from __future__ import annotations

from tests.golden import HERE, as_text, golden_of, notes, told

wanted = {golden_of(note): as_text(told(note)) for note in notes()}
for path, text in wanted.items():
    former = path.read_text("utf-8") if path.exists() else None
    path.write_text(text, "utf-8")
    print(f"{path.name}: {'unchanged' if former == text else 'written'}")
for path in HERE.glob("*.json"):
    if path not in wanted:
        path.unlink()
        print(f"{path.name}: removed, there is no such note")
