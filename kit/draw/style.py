"""One style sheet for every screen: legible in light and dark, nothing told by colour alone."""

__all__ = ["STYLE"]

STYLE = """<style>
.sk-headline{display:flex;flex-wrap:wrap;gap:8px 28px;padding:8px 12px;border:2px solid currentColor;border-radius:4px}
.sk-fact b{font-size:1.15em}
.sk-price{font-size:1.5em!important;font-variant-numeric:tabular-nums}
.sk-table{border-collapse:collapse;font-size:13px;line-height:1.35;width:100%}
.sk-table caption{text-align:left;font-weight:600;padding:4px 0}
.sk-table th,.sk-table td{border-bottom:1px solid currentColor;padding:3px 8px;text-align:left;vertical-align:top}
.sk-table th{border-bottom-width:2px}
.sk-table .sk-number{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
.sk-drawing{margin:8px 0 18px}
.sk-drawing svg{max-width:100%;height:auto}
.sk-scroll{max-height:70vh;overflow:auto}
.sk-faults{border:2px dashed currentColor;border-radius:4px;padding:6px 10px;font-weight:600}
</style>"""
