"""The station's pages; run with ``streamlit run app.py`` or ``spc station``."""

from spc.pages.main import main

main()
