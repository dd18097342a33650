"""Sets up everything and opens Washline:  python3 packaging/start.py [--setup-only] [arguments of the program]"""

import sys

if sys.version_info < (3, 8):
    sys.exit("washline: needs Python 3.11 or newer, and this is " + sys.version.split()[0])

import environment

if __name__ == "__main__":
    sys.exit(environment.start(sys.argv[1:]))
