"""Install the system packages that only the tests need, where apt can; say so where it cannot.

Nothing here is needed to use the program.
"""

import os
import shutil
import subprocess
import sys

PACKAGES = {
    "chromium": "chromium",
    "convert": "imagemagick",
    "soffice": "libreoffice-calc-nogui",
    "hb-shape": "libharfbuzz-bin",
    "unzip": "unzip",
    "hunspell": "hunspell",
}
DATA_FILES = {
    "/usr/share/hunspell/en_GB.dic": "hunspell-en-gb",
    "/usr/share/hunspell/en_US.dic": "hunspell-en-us",
    "/usr/share/hunspell/de_DE.dic": "hunspell-de-de",
    "/usr/share/hunspell/fr.dic": "hunspell-fr-classical",
    "/usr/share/hunspell/es_ES.dic": "hunspell-es",
    "/usr/lib/postgresql": "postgresql",
    "/usr/share/unicode/auxiliary/GraphemeBreakTest.txt": "unicode-data",
    "/usr/share/fonts/opentype/ipaexfont-gothic/ipaexg.ttf": "fonts-ipaexfont-gothic",
    "/usr/share/fonts/truetype/wqy/wqy-microhei.ttc": "fonts-wqy-microhei",
    "/usr/share/scribus/profiles/ISOcoated_v2_300_bas.icc": "scribus-data",
}


def main() -> int:
    """Install what is missing; 0 also when it cannot be, since the tests that need it say so themselves."""
    missing = [package for tool, package in PACKAGES.items() if shutil.which(tool) is None]
    missing += [package for path, package in DATA_FILES.items() if not os.path.exists(path)]
    if not missing:
        return 0
    if shutil.which("apt-get") is None or os.geteuid() != 0:
        print(f"skipping the tests that compare with {', '.join(missing)}", file=sys.stderr)
        return 0
    env = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    subprocess.run(["apt-get", "update", "-qq"], env=env, check=False)
    done = subprocess.run(
        ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *missing],
        env=env,
        check=False,
        stdout=subprocess.DEVNULL,
    )
    if done.returncode:
        print(f"no {', '.join(missing)} here: skipping the tests that compare with them", file=sys.stderr)
    return 0


if __name__ == "__main__":
    sys.exit(main())
