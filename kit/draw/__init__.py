"""Pictures and tables as strings of SVG and HTML, from pure functions; nothing here needs a screen."""
