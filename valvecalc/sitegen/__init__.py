"""The generated site: pages from cards, facts and sheets, and the mkdocs plugin that adds them."""
