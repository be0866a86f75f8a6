#!/usr/bin/python3
"""Lays the page's folder together from what was built: platform/web/pack.py BUILD OUT

Everything a browser needs, and nothing that needs more of a web server than to hand out files. The fonts are cut to the
scripts that the program can draw (app/fonts.cpp). What reads codes off the camera's pictures comes from npm, into
build/web-sources. service.js gets the list of the files with their digests, and a
version that changes with any of them. Beside each file that shrinks lies NAME.br and NAME.gz, for servers that hand those
out to browsers which take them; one that does not know them hands out NAME. The folder is replaced only when it is whole.
"""
import base64
import gzip
import hashlib
import os
import re
import shutil
import subprocess
import sys

import brotli

FONTS = ["truetype/open-sans/OpenSans-CondBold.ttf", "truetype/vollkorn/Vollkorn-SemiBold.ttf",
         "opentype/inter/Inter-Medium.otf", "opentype/inter/Inter-SemiBold.otf", "truetype/noto/NotoSans-Regular.ttf"]
# As ranges_of in app/fonts.cpp: Latin, Greek, Cyrillic, and the signs that texts need.
SCRIPTS = "U+0020-00FF,U+2010-2027,U+202F-203A,U+20AC,U+2212,U+FFFD,U+0100-024F,U+1E00-1EFF,U+0370-03FF,U+0400-052F"

# What the page holds of Debian's packages that are taken as they are installed.
PACKAGES = ["emscripten", "fonts-inter", "fonts-noto-core", "fonts-open-sans", "fonts-vollkorn", "libboost1.74-dev",
            "libcereal-dev", "libeigen3-dev", "nlohmann-json3-dev"]

READER = ("jsqr", "1.4.0",
          "sha512-dxLob7q65Xg2DvstYkRpkYtmKm2sPJ9oFhrhmudT1dZvNFFTlroai3AWSpLey/w5vMcLBXRgOJsbXpdN9HzU/A==")


def cut_font(source, target):
    # Kerning and the like are not used by the library that draws; the hints are.
    subprocess.run(["/usr/bin/python3", "-m", "fontTools.subset", source, f"--unicodes={SCRIPTS}", "--layout-features=",
                    "--notdef-outline", "--hinting", "--desubroutinize", "--drop-tables+=GPOS,GSUB,GDEF,DSIG,FFTM",
                    f"--output-file={target}"], check=True, stderr=subprocess.DEVNULL)


def lay_licences(folder, sources, reader):
    """What is handed out holds others' work: their licences and ours go with it, though no browser fetches them."""
    os.makedirs(folder)
    home = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))
    texts = {"motherbulb": os.path.join(home, "LICENSE"), "jsqr": os.path.join(reader, "LICENSE")}
    for library in os.listdir(sources):
        if os.path.exists(os.path.join(sources, f"{library}.version")):
            found = [os.path.join(sources, library, name) for name in ("debian/copyright", "COPYING")]
            texts[library] = next(name for name in found if os.path.exists(name))
    for package in PACKAGES:
        texts[package] = f"/usr/share/doc/{package}/copyright"
    for name, path in texts.items():
        shutil.copyfile(path, os.path.join(folder, f"{name}.txt"))


def compress(folder, kept):
    """Writes NAME.br and NAME.gz beside each file that they make smaller; what was compressed before lies in `kept`."""
    ways = {"br": lambda data: brotli.compress(data, quality=11, lgwin=24), "gz": lambda data: gzip.compress(data, 9, mtime=0)}
    os.makedirs(kept, exist_ok=True)
    in_use = set()
    for at, _, names in list(os.walk(folder)):
        for name in names:
            path = os.path.join(at, name)
            with open(path, "rb") as file:
                data = file.read()
            digest = hashlib.sha256(data).hexdigest()
            for end, way in ways.items():
                small = os.path.join(kept, f"{digest}.{end}")
                in_use.add(small)
                if not os.path.exists(small):
                    with open(small + ".new", "wb") as file:
                        file.write(way(data))
                    os.rename(small + ".new", small)
                if os.path.getsize(small) < 0.95 * len(data):
                    shutil.copyfile(small, f"{path}.{end}")
    for name in os.listdir(kept):
        if os.path.join(kept, name) not in in_use:
            os.remove(os.path.join(kept, name))


def main():
    build, out = sys.argv[1:3]
    here = os.path.dirname(os.path.abspath(__file__))
    fresh = out.rstrip("/") + ".new"
    shutil.rmtree(fresh, ignore_errors=True)
    os.makedirs(os.path.join(fresh, "fonts"))
    page = os.path.join(here, "page")
    for name in sorted(os.listdir(page)):
        shutil.copyfile(os.path.join(page, name), os.path.join(fresh, name))
    for name in ("motherbulb.js", "motherbulb.wasm"):
        shutil.copyfile(os.path.join(build, name), os.path.join(fresh, name))
    sources = os.path.join(os.path.dirname(os.path.abspath(build)), "web-sources")
    reader = subprocess.run([os.path.join(here, "fetch_npm"), sources, *READER], check=True, stdout=subprocess.PIPE,
                            encoding="utf-8").stdout.strip()
    shutil.copyfile(os.path.join(reader, "dist", "jsQR.js"), os.path.join(fresh, "jsqr.js"))
    kept = os.path.join(build, "fonts")  # cut once
    os.makedirs(kept, exist_ok=True)
    for font in FONTS:
        name = os.path.basename(font)
        source = os.path.join("/usr/share/fonts", font)
        target = os.path.join(kept, name)
        newest = max(os.path.getmtime(source), os.path.getmtime(__file__))
        if not os.path.exists(target) or os.path.getmtime(target) < newest:
            cut_font(source, target)
        shutil.copyfile(target, os.path.join(fresh, "fonts", name))
    for size in (192, 512):
        subprocess.run(["rsvg-convert", "-w", str(size), "-h", str(size), os.path.join(page, "icon.svg"), "-o",
                        os.path.join(fresh, f"icon-{size}.png")], check=True)
    files = []
    for folder, _, names in os.walk(fresh):
        for name in names:
            path = os.path.relpath(os.path.join(folder, name), fresh)
            if path == "service.js":
                continue
            with open(os.path.join(fresh, path), "rb") as file:
                files.append((path, "sha256-" + base64.b64encode(hashlib.sha256(file.read()).digest()).decode()))
    files.sort()
    service = os.path.join(fresh, "service.js")
    with open(service, encoding="utf-8") as file:
        text = file.read()
    version = hashlib.sha256((repr(files) + text).encode()).hexdigest()[:12]
    listed = "\n" + "".join(f"  ['{name}', '{digest}'],\n" for name, digest in files)
    text, found = re.subn(r"/\*FILES\*/", lambda _: listed, text)
    text, versions = re.subn("@VERSION@", version, text)
    assert found == 1 and versions == 1, "service.js has no place for its files or its version"
    with open(service, "w", encoding="utf-8") as file:
        file.write(text)
    compress(fresh, os.path.join(build, "compressed"))
    lay_licences(os.path.join(fresh, "licences"), sources, reader)
    old = out.rstrip("/") + ".old"
    shutil.rmtree(old, ignore_errors=True)
    if os.path.exists(out):
        os.rename(out, old)
    os.rename(fresh, out)
    shutil.rmtree(old, ignore_errors=True)


if __name__ == "__main__":
    main()
