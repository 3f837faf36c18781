"""Run by the page server for every person who opens the station."""

from spc.pages.main import main

if __name__ == "__main__":
    main()
