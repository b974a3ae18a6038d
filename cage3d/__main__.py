"""`python -m cage3d`: the command line."""

from cage3d_cli.main import main

main()
