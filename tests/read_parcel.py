#!/usr/bin/python3
"""A second reader of parcels, made from shared/FORMAT.md alone: no code of ours is in it, and what kinds and codes there
are it takes from that page's own tables.

    tests/read_parcel.py               reads every golden parcel, compares with its plain text; then damages each; and
                                       reads the golden codes, which are one of those parcels
    tests/read_parcel.py FILE          prints a parcel's plain text

It needs BLAKE2b (Python's hashlib) and zstd (Debian's python3-zstandard).
"""
import hashlib
import os
import re
import sys

import zstandard

ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))
GREATEST_SEQUENCE = 2**63 - 1


class Refused(Exception):
    """What is not a parcel of this version, or damaged; the first word says which."""


def damaged(what):
    return Refused("damaged: " + what)


def blake(*parts, size=32):
    state = hashlib.blake2b(digest_size=size)
    for part in parts:
        state.update(part)
    return state.digest()


class Bytes:
    """Reads values one after the other and never beyond the end."""

    def __init__(self, data):
        self.data = data
        self.at = 0

    def left(self):
        return len(self.data) - self.at

    def raw(self, size):
        if size > self.left():
            raise damaged("a length goes beyond the end")
        self.at += size
        return self.data[self.at - size : self.at]

    def fixed(self, size):
        return int.from_bytes(self.raw(size), "little")

    def fixed_signed(self, size):
        return int.from_bytes(self.raw(size), "little", signed=True)

    def number(self):
        value = 0
        for place in range(10):
            byte = self.fixed(1)
            if (byte == 0 and place > 0) or (place == 9 and byte > 1):
                raise damaged("a number is not in its shortest form")
            value |= (byte & 127) << (7 * place)
            if byte < 128:
                return value
        raise damaged("a number does not end")

    def signed(self):
        value = self.number()
        return value // 2 if value % 2 == 0 else -(value + 1) // 2

    def count(self):
        count = self.number()
        if count > self.left():
            raise damaged("a count goes beyond the end")
        return count

    def bytes(self):
        return self.raw(self.number())

    def text(self):
        try:
            return self.bytes().decode("utf-8")
        except UnicodeDecodeError:
            raise damaged("a text is no UTF-8") from None


# ------------------------------------------------------------------------------------------ kinds, after FORMAT.md


def tables():
    with open(os.path.join(ROOT, "shared", "FORMAT.md"), encoding="utf-8") as page:
        lines = page.read().split("\n")
    kinds, codes, part = {}, {}, ""
    for line in lines:
        if line.startswith("#"):
            part = line.strip("# ")
        kind = re.fullmatch(r"\| (\d+) \| ([a-z-]+) \| (.*) \|", line)
        if kind and part == "Kinds":
            fields = []
            for field in kind.group(3).split("; "):
                name, what = re.fullmatch(r"(\w+): (.*)", field).groups()
                limits = re.search(r" \[(.*)\]$", what)
                fields.append((name, what[: limits.start()] if limits else what, limits and limits.group(1)))
            kinds[int(kind.group(1))] = (kind.group(2), fields)
        code = re.fullmatch(r"\| (\w+) \| (\d+ [^|]*) \|", line)
        if code and part == "Codes":
            codes[code.group(1)] = {int(value.split(" ")[0]) for value in code.group(2).split("; ")}
    return kinds, codes


KINDS, CODES = tables()


class NotUnderstood(Exception):
    pass


def within(value, low, high):
    if not low <= value <= high:
        raise NotUnderstood
    return value


def read_code(data, name):
    value = data.fixed(1)
    if value not in CODES[name]:
        raise NotUnderstood
    return value


def read_line(data):
    parts = data.fixed(1)
    if parts > 15:
        raise NotUnderstood
    line = {"count": within(data.signed(), 0, 1000000)}
    if parts & 1:
        line["grade"] = [within(data.signed(), -1, 2**31 - 1) for _ in range(2)]
    if parts & 2:
        line["cause"] = read_code(data, "cause")
        if line["cause"] == 0:
            raise NotUnderstood
    for bit, name in ((4, "detail"), (8, "note")):
        if parts & bit:
            line[name] = data.text()
            if not line[name]:
                raise NotUnderstood
    return line


def read_value(data, what):
    if what.startswith("optional "):
        there = within(data.fixed(1), 0, 1)
        return read_value(data, what[9:]) if there else None
    if what.startswith("list of "):
        return [read_value(data, what[8:]) for _ in range(data.count())]
    if what.startswith("code "):
        return read_code(data, what[5:])
    if what.startswith("signed "):
        bits = int(what[7:])
        return within(data.signed(), -(2 ** (bits - 1)), 2 ** (bits - 1) - 1)
    if what == "bool":
        return bool(within(data.fixed(1), 0, 1))
    if what == "id16":
        return data.raw(16)
    return {"text": data.text, "number": data.number, "bytes": data.bytes, "line": lambda: read_line(data)}[what]()


def keep_limits(value, limits):
    if limits is None or value is None:
        return
    least = re.fullmatch(r"≥ (\d+)", limits)
    if least:
        within(value, int(least.group(1)), 2**63)
    else:
        low, high = limits.split(" to ")
        within(value, int(low), int(high))


def read_payload(kind, payload):
    """The fields by name, or None where the payload is not understood."""
    if kind not in KINDS:
        return None
    data = Bytes(payload)
    fields = []
    try:
        for name, what, limits in KINDS[kind][1]:
            value = read_value(data, what)
            keep_limits(value, limits)
            fields.append((name, value))
        if data.left():
            raise NotUnderstood
    except (NotUnderstood, Refused):
        return None
    return fields


# ------------------------------------------------------------------------------------------------------ the frame


class Entry:
    pass


def written_number(value):
    out = bytearray()
    while value >= 128:
        out.append(value % 128 + 128)
        value //= 128
    out.append(value)
    return bytes(out)


def written_bytes(value):
    return written_number(len(value)) + value


def body(entry):
    out = entry.kind.to_bytes(2, "little") + entry.stamp.to_bytes(8, "little")
    out += entry.when.to_bytes(8, "little", signed=True) + entry.offset.to_bytes(2, "little", signed=True)
    out += bytes([(1 if entry.bare else 0) + (2 if entry.table else 0)]) + entry.batch
    out += written_number(entry.pot) + written_bytes(entry.helper.encode())
    if entry.table:
        fact, rows, device = entry.table
        out += fact + written_number(len(rows)) + b"".join(written_number(row) for row in rows)
        out += written_bytes(device.encode())
    return out + written_bytes(entry.payload)


def as_signed(value):
    value %= 2**64
    return value - 2**64 if value >= 2**63 else value


def texts(data, entries):
    count = data.number()
    if count > entries:
        raise damaged("more texts than entries")
    found = [""]
    for _ in range(count):
        found.append(data.text())
        if not found[-1]:
            raise damaged("an empty text")
    return found


def pick(items, number):
    if not 0 <= number < len(items):
        raise damaged("a number beyond the dictionary")
    return items[number]


def checked(value, low, high):
    if not low <= value <= high:
        raise damaged("a value beyond its limits")
    return value


def read_block(content, count):
    data = Bytes(content)
    helpers, devices = texts(data, count), texts(data, count)
    batches, facts, rows, payloads = (Bytes(data.bytes()) for _ in range(4))
    if batches.left() % 16 or facts.left() % 16 or rows.left() % 8:
        raise damaged("a part that does not come out even")
    dictionary = [bytes(16)] + [batches.raw(16) for _ in range(batches.left() // 16)]
    of_tables = facts.left() // 16
    columns = []
    for index in range(12):
        least, width = data.signed(), checked(data.fixed(1), 0, 8)
        values = [as_signed(least + data.fixed(width)) for _ in range(count if index < 10 else of_tables)]
        columns.append(values)
    if data.left():
        raise damaged("something behind the columns")
    from_table = iter(list(zip(columns[10], columns[11])))
    entries, stamp_ms = [], 0
    for flags, kind, stamp, counter, when, offset, batch, helper, pot, size in zip(*columns[:10]):
        entry = Entry()
        checked(flags, 0, 7)
        if flags & 4 and not flags & 1:
            raise damaged("a number of days that is no bare day")
        entry.bare = bool(flags & 1)
        entry.kind = checked(kind, 1, 65535)
        stamp_ms = checked((stamp_ms + stamp) % 2**64, 0, 2**48 - 1)
        entry.stamp = stamp_ms * 65536 + checked(counter, 0, 65535)
        entry.offset = checked(offset, -1080, 1080)
        if flags & 4:
            day = checked(as_signed(when + stamp_ms // 86400000), -(2**31), 2**31 - 1)
            entry.when = day * 86400000 - entry.offset * 60000
        else:
            entry.when = as_signed(when + stamp_ms)
        entry.batch, entry.helper = pick(dictionary, batch), pick(helpers, helper)
        entry.pot = checked(pot, 0, 2**31 - 1)
        entry.payload = payloads.raw(checked(size, 0, 2**63))
        entry.table = None
        if flags & 2:
            marks, device = next(from_table, (None, None))
            if marks is None:
                raise damaged("more entries from tables than facts")
            checked(marks, 0, rows.left() // 8)
            entry.table = (facts.raw(16), [rows.fixed(8) for _ in range(marks)], pick(devices, device))
        entries.append(entry)
    if facts.left() or rows.left() or payloads.left():
        raise damaged("something is left over")
    return entries


def read_parcel(parcel):
    """The plain text of a parcel."""
    if not parcel or parcel[:8] != b"MBparcel"[: len(parcel)]:
        raise Refused("no parcel")
    head = Bytes(parcel)
    head.raw(8)
    version = head.fixed(2)
    if version > 1:
        raise Refused("newer")
    writer, written_at = head.raw(16), head.fixed_signed(8)
    chain = blake(bytes(32), parcel[:34])
    if version == 0 or head.raw(32) != chain:
        raise damaged("the head")

    if len(parcel) < 66 + 52:
        raise damaged("no trailer")
    tail = Bytes(parcel[-52:])
    trailer_size, total, check, mark = tail.fixed(4), tail.fixed(8), tail.raw(32), tail.raw(8)
    if total != len(parcel) or mark != b"MBends\r\n":
        raise damaged("the end")
    if not 52 <= trailer_size <= min(4194304, len(parcel) - 66):
        raise damaged("the trailer's size")
    start = len(parcel) - trailer_size
    if check != blake(bytes(32), parcel[start : len(parcel) - 40]):
        raise damaged("the trailer")
    trailer = Bytes(parcel[start:-52])
    last_check, blocks, all_entries = trailer.raw(32), trailer.fixed(8), trailer.fixed(8)
    runs = []
    for _ in range(trailer.count()):
        run = (trailer.raw(16), trailer.number(), trailer.number(), trailer.raw(32), trailer.raw(32))
        if run[1] < 1 or run[2] < 1 or run[1] + run[2] - 1 > GREATEST_SEQUENCE:
            raise damaged("a run's numbers")
        if run[1] == 1 and run[3] != blake(bytes(32), b"motherbulb writer 1", run[0]):
            raise damaged("a run that begins with a wrong hash")
        runs.append(run)
    vector = []
    for _ in range(trailer.count()):
        known = (trailer.raw(16), trailer.number(), trailer.raw(32))
        if not 1 <= known[1] <= GREATEST_SEQUENCE or (vector and known[0] <= vector[-1][0]):
            raise damaged("the vector")
        vector.append(known)
    if trailer.left() or sum(run[2] for run in runs) != all_entries:
        raise damaged("the trailer's counts")

    out = ["parcel 1 written by %s at %d" % (writer.hex(), written_at)]
    data = Bytes(parcel[:start])
    data.raw(66)
    read = 0
    for by, first, count, before, last in runs:
        out += ["run %s first %d count %d" % (by.hex(), first, count), "before " + before.hex()]
        sequence, previous = first, before
        while sequence < first + count:
            sizes = data.raw(12)
            entries, content_size, packed_size = (int.from_bytes(sizes[i : i + 4], "little") for i in (0, 4, 8))
            check = data.raw(32)
            if not 1 <= entries <= 65536 or content_size > 2162688 or packed_size > content_size:
                raise damaged("a block's sizes")
            packed = data.raw(packed_size)
            chain = blake(chain, sizes, packed)
            if check != chain:
                raise damaged("a block")
            content = packed
            if packed_size < content_size:
                try:
                    unpacker = zstandard.ZstdDecompressor(max_window_size=2**23).decompressobj()
                    content = unpacker.decompress(packed)
                except zstandard.ZstdError:
                    raise damaged("a block cannot be unpacked") from None
            if len(content) != content_size or entries > first + count - sequence:
                raise damaged("a block's content")
            for entry in read_block(content, entries):
                whole = body(entry)
                if len(whole) > 2097152:
                    raise damaged("an entry is too large")
                previous = blake(previous, whole)
                out += shown_entry(entry, by, sequence, previous)
                sequence += 1
            read += 1
        if previous != last:
            raise damaged("a run")
        out.append("last " + last.hex())
    if data.left() or read != blocks or chain != last_check:
        raise damaged("blocks")
    out += ["vector %s last %d head %s" % (known[0].hex(), known[1], known[2].hex()) for known in vector]
    out.append("entries %d blocks %d" % (all_entries, blocks))
    return "\n".join(out) + "\n"


# ------------------------------------------------------------------------------------------- as a sequence of codes

BASE_45 = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:"


def read_base_45(text):
    data = b""
    for at in range(0, len(text), 3):
        digits = text[at : at + 3]
        size = {3: 2, 2: 1}.get(len(digits))
        value = sum(BASE_45.index(digit) * 45**place for place, digit in enumerate(digits)) if size else None
        if value is None or value >= 256**size:
            raise damaged("a code's base 45")
        data += value.to_bytes(size, "big")
    return data


def read_codes(texts):
    pieces = {}
    of = None
    for text in texts:
        if not re.fullmatch(r"MB1:[%s]+\." % re.escape(BASE_45), text) or len(text) > 965:
            raise damaged("a code's text")
        data = read_base_45(text[4:-1])
        piece = Bytes(data[:-4])
        if blake(b"motherbulb code 1", data[:-4], size=16)[:4] != data[-4:]:
            raise damaged("a code's check")
        parcel, nth, count, length = piece.raw(8), piece.fixed(2), piece.fixed(2), piece.fixed(4)
        content = piece.raw(piece.left())
        if not 1 <= nth <= count <= 256 or count != (length + 619) // 620:
            raise damaged("a code's numbers")
        if len(content) != min(620, length - 620 * (nth - 1)) or of not in (None, (parcel, count, length)):
            raise damaged("a code's content")
        of = (parcel, count, length)
        pieces[nth] = content
    whole = b"".join(pieces[nth] for nth in sorted(pieces))
    if not of or len(pieces) != of[1] or blake(whole, size=16)[:8] != of[0]:
        raise damaged("the codes together")
    return whole


def codes_fault(folder):
    """What is wrong with the golden codes; none: nothing."""
    with open(os.path.join(folder, "v1-tables-fork.codes"), encoding="ascii", newline="") as file:
        texts = file.read().split("\n")[:-1]
    with open(os.path.join(folder, "v1-tables-fork.parcel"), "rb") as file:
        parcel = file.read()
    try:
        if read_codes(texts[::-1]) != parcel:
            return "the codes are another parcel"
    except Refused as why:
        return str(why)
    for nth, text in enumerate(texts):
        for altered in ([], [text[:-9] + ("0" if text[-9] != "0" else "1") + text[-8:]]):
            try:
                read_codes(texts[:nth] + altered + texts[nth + 1 :])
                return "taken although code %d is %s" % (nth + 1, "altered" if altered else "missing")
            except Refused:
                pass
    return None


# -------------------------------------------------------------------------------------------------- the plain text


def quoted(text):
    escaped = ["\\" + c if c in '"\\' else "\\u%04x" % ord(c) if ord(c) < 32 else c for c in text]
    return '"' + "".join(escaped) + '"'


def shown(value):
    if value is None:
        return "null"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, bytes):
        return quoted(value.hex())
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, list):
        return "[" + ",".join(shown(item) for item in value) + "]"
    if isinstance(value, dict):
        return "{" + ",".join(quoted(name) + ":" + shown(item) for name, item in value.items()) + "}"
    return str(value)


def shown_entry(entry, writer, sequence, hashed):
    name = " name " + KINDS[entry.kind][0] if entry.kind in KINDS else ""
    lines = ["entry %d kind %d%s" % (sequence, entry.kind, name)]
    lines.append("  stamp %d %d when %d offset %d%s" % (entry.stamp // 65536, entry.stamp % 65536, entry.when,
                                                       entry.offset, " bare day" if entry.bare else ""))
    lines.append("  batch %s pot %d helper %s" % (entry.batch.hex(), entry.pot, quoted(entry.helper)))
    if entry.table:
        fact, rows, device = entry.table
        lines.append("  table %s rows %s device %s" % (fact.hex(), shown(rows), quoted(device)))
    else:
        fact = blake(b"motherbulb entry 1", writer, sequence.to_bytes(8, "little"), size=16)
    fields = read_payload(entry.kind, entry.payload)
    lines.append("  payload " + (entry.payload.hex() if fields is None else shown(dict(fields))))
    return lines + ["  fact " + fact.hex(), "  hash " + hashed.hex()]


def main():
    if len(sys.argv) == 2:
        with open(sys.argv[1], "rb") as file:
            sys.stdout.write(read_parcel(file.read()))
        return 0
    folder = os.path.join(ROOT, "shared", "golden")
    names = sorted(name for name in os.listdir(folder) if name.endswith(".parcel"))
    failed = 0
    tried = 0
    for name in names:
        with open(os.path.join(folder, name), "rb") as file:
            parcel = file.read()
        with open(os.path.join(folder, name[:-7] + ".txt"), encoding="utf-8", newline="") as file:
            wanted = file.read()
        try:
            text = read_parcel(parcel)
        except Refused as why:
            text = str(why)
        if text != wanted:
            failed += 1
            for number, (ours, theirs) in enumerate(zip(text.split("\n"), wanted.split("\n")), 1):
                if ours != theirs:
                    print("%s, line %d:\n  %s\n  %s" % (name, number, ours[:300], theirs[:300]))
                    break
            else:
                print("%s: the one text is longer than the other" % name)
        for place in range(len(parcel)):
            for altered in (parcel[:place], parcel[:place] + bytes([parcel[place] ^ 1 << place % 8]) + parcel[place + 1 :]):
                tried += 1
                try:
                    read_parcel(altered)
                    failed += 1
                    print("%s: taken although altered at byte %d" % (name, place))
                except Refused:
                    pass
    fault = codes_fault(folder)
    if fault:
        failed += 1
        print("v1-tables-fork.codes: " + fault)
    print("%d parcels read, %d kinds known, %d damages tried, %d faults" % (len(names), len(KINDS), tried, failed))
    if len(names) < 4 or len(KINDS) != 38 or len(CODES) != 8:
        print("too few parcels, kinds or codes were found to have looked")
        return 1
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
