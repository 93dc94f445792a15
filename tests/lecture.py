"""The lecture's page, without and with a browser.

    lecture.py file LECTURE           one script, of the policy's hash
    lecture.py ask NAME ASK           writes a page that walks through NAME
    lecture.py check LECTURE DUMP     what that page told: every lesson whole
    lecture.py paper LECTURE PDF      two lessons a sheet, each of them whole

SPDX-License-Identifier: GPL-3.0-or-later
"""
import base64
import hashlib
import html
import re
import subprocess
import sys

SIZES = ((1280, 720), (1024, 768))
SMALLEST = 14  # px of type on a screen

ASK = """<!DOCTYPE html><title>ask</title><iframe src="NAME"></iframe>
<pre id="told"></pre><script>onload = async () => {
  const frame = document.querySelector("iframe"), told = [];
  for (const [wide, high] of SIZES) {
    frame.width = wide; frame.height = high;
    await new Promise(done => setTimeout(done, 300));
    const page = frame.contentDocument, own = frame.contentWindow;
    const press = key => page.body.dispatchEvent(
      new own.KeyboardEvent("keydown", {key, bubbles: true}));
    const on = () => page.querySelector("section.on");
    const seen = name => { const part = on().querySelector(name);
      return part ? own.getComputedStyle(part).visibility : "none"; };
    press("Home");
    for (let i = 0; i < 40; i++) {
      const first = on(), steps = [];
      if (first.dataset.step !== undefined) {
        press("ArrowLeft"); press("PageDown");
        while (first === on() && steps.length < 3) {
          steps.push(seen(".picture") + "/" + seen(".answer"));
          if (steps.length < 3) press(" ");
        }
      }
      press("a");
      const at = on().getBoundingClientRect(), parts = [...on()
        .querySelectorAll("*")].filter(p => p.getClientRects().length)
        .map(p => p.getBoundingClientRect());
      told.push([wide, on().id, parseFloat(own.getComputedStyle(on()).fontSize),
        Math.max(...parts.map(p => p.bottom)) - at.bottom,
        Math.max(...parts.map(p => p.right)) - at.right,
        page.documentElement.scrollHeight - high, steps.join(" ")].join("|"));
      press("PageDown");
      if (on() === first) break;
    }
  }
  document.querySelector("#told").textContent = told.join("\\n");
}</script>
"""


def slides(page):
    return re.findall(r'<section id="slide-([a-z]+)" class="slide">(.*?)</section>',
                      page, re.S)


def check_file(path):
    page = open(path, encoding="utf-8").read()
    found = re.findall("<script>(.*?)</script>", page, re.S)
    assert len(found) == 1, f"{len(found)} scripts"
    digest = base64.b64encode(hashlib.sha256(found[0].encode()).digest()).decode()
    assert f"script-src 'sha256-{digest}'; img-src data:\">" in page
    assert page.count("<img ") == page.count("data:image/gif;base64,R0lGODlh") == 1
    names = [name for name, _ in slides(page)]
    assert re.findall('href="#slide-([a-z]+)"', page) == names
    for name, slide in slides(page):
        for part in ("Aim.", "Often believed.", "Question.", "Answer.", "Limit.",
                     "For the speaker."):
            assert f"<strong>{part}</strong> " in slide, (name, part)
    print(f"lecture: {len(names)} lessons, one script, of the policy's hash")


def check_screens(path, dump):
    names = ["slide-" + name for name, _ in slides(open(path, encoding="utf-8").read())]
    text = open(dump, encoding="utf-8").read()
    text = re.search(r'<pre id="told">(.*?)</pre>', text, re.S)[1]
    rows = [row.split("|") for row in html.unescape(text).split("\n")]
    for wide, _ in SIZES:
        assert [r[1] for r in rows if r[0] == str(wide)] == ["slide-contents", *names], rows
    for wide, name, size, below, right, scroll, steps in rows:
        assert float(size) >= SMALLEST, (wide, name, "type of", size)
        assert float(below) <= 1 and float(right) <= 1, (wide, name, below, right)
        assert float(scroll) <= 0, (wide, name, "scrolls by", scroll)
        if name != "slide-contents":
            assert steps == "hidden/hidden visible/hidden visible/visible", (name, steps)
    print(f"lecture: {len(names)} lessons fit both screens; picture and answer "
          "come by keys")


def check_paper(path, pdf):
    page = open(path, encoding="utf-8").read()
    sides = subprocess.run(["pdftotext", "-raw", pdf, "-"], check=True, capture_output=True,
                           text=True).stdout.split("\f")[:-1]
    found = slides(page)
    assert len(sides) == (len(found) + 1) // 2, (len(sides), len(found))
    for i, (name, slide) in enumerate(found):
        words = html.unescape(re.search(r"<strong>Limit.</strong> (.*?)</p>", slide, re.S)[1])
        assert words.split()[-1] in " ".join(sides[i // 2].split()), (name, words)
    print(f"lecture: {len(found)} lessons on {len(sides)} sheets of paper")


if sys.argv[1] == "file":
    check_file(sys.argv[2])
elif sys.argv[1] == "ask":
    with open(sys.argv[3], "w", encoding="utf-8") as out:
        out.write(ASK.replace("NAME", sys.argv[2]).replace("SIZES", str(
            [list(size) for size in SIZES])))
elif sys.argv[1] == "check":
    check_screens(*sys.argv[2:4])
else:
    check_paper(*sys.argv[2:4])
