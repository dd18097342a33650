"""Sets up everything and runs the tests:  python3 packaging/check.py [--setup-only | --all] [arguments of pytest]"""

import sys

if sys.version_info < (3, 8):
    sys.exit("washline: needs Python 3.11 or newer, and this is " + sys.version.split()[0])

import environment

if __name__ == "__main__":
    sys.exit(environment.check(sys.argv[1:]))
