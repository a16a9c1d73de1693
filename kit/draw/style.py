"""One style sheet for every screen: legible in light and dark, nothing told by colour alone, usable at a tablet's width."""

__all__ = ["STYLE"]

STYLE = """<style>
.sk-screen{container-type:inline-size;color:var(--jp-ui-font-color1,inherit);font-size:14px;overflow:visible}
.sk-screen .widget-html-content{line-height:1.4}
.sk-screen .widget-html:has(>.widget-html-content:empty),.sk-screen .widget-html:has(>.widget-html-content>style){display:none}
.jp-OutputArea-output:has(.sk-screen),.jp-OutputArea-child:has(.sk-screen),.jp-OutputArea:has(.sk-screen),.jp-Cell-outputWrapper:has(.sk-screen){overflow:visible}
.sk-screen .sk-top{position:sticky;top:0;z-index:5;background:var(--jp-layout-color0,#fff);padding:2px 0;overflow:visible}
.sk-screen p{margin:4px 0;max-width:80ch}
.sk-screen .sk-bar{flex-flow:row wrap;align-items:center;gap:2px 6px;overflow:visible}
.sk-screen .sk-bar>*{margin:2px 0}
.sk-screen .jupyter-button,.sk-screen .sk-button{width:auto;min-width:40px;min-height:32px;height:auto;padding:2px 12px;line-height:26px;font-size:14px;
border:1px solid var(--jp-border-color1,#767676);border-radius:3px;background:var(--jp-layout-color2,#eee);color:var(--jp-ui-font-color0,#000);box-shadow:none}
.sk-screen .jupyter-button:hover:not(:disabled){border-color:currentColor}
.sk-screen .jupyter-button:disabled{opacity:1;border-style:dotted;color:var(--jp-ui-font-color2,#555)}
.sk-screen .jupyter-button.mod-active{border:2px solid currentColor;font-weight:700;text-decoration:underline;background:var(--jp-layout-color0,#fff)}
.sk-screen .widget-toggle-buttons>div{display:flex;flex-wrap:wrap;gap:4px}
.sk-screen .widget-toggle-buttons{height:auto;overflow:visible}
.sk-screen .sk-body{display:grid;grid-template-columns:minmax(320px,5fr) minmax(0,8fr);gap:16px;align-items:start;overflow:visible}
.sk-screen .sk-pane{height:min(74vh,860px);overflow:auto;min-width:0;border-top:1px solid var(--jp-border-color1,#767676);padding:6px 2px}
.sk-screen .sk-side>.widget-toggle-button{align-self:flex-start}
.sk-screen .sk-side{min-width:0;overflow:visible}
@container (max-width:900px){.sk-screen .sk-body{grid-template-columns:minmax(0,1fr)}.sk-screen .sk-pane{height:auto;max-height:40vh}}
.sk-screen .widget-text,.sk-screen .widget-dropdown,.sk-screen .widget-slider{max-width:560px}
.sk-screen .widget-label{color:var(--jp-ui-font-color1,inherit);white-space:normal;line-height:1.2;height:auto;align-self:center}
.sk-screen .widget-inline-hbox{height:auto;min-height:32px;overflow:visible}
.sk-screen .widget-inline-hbox .widget-label{text-align:left}
.sk-screen select,.sk-screen .widget-text input{height:28px}
.sk-screen select{appearance:auto;background-image:none}
.sk-screen select[multiple]{height:auto;min-height:100px}
.sk-screen p[role=alert]{font-weight:600;border-left:4px solid currentColor;padding-left:8px}
.sk-effect tbody th{overflow-wrap:anywhere;min-width:120px}
.theme-dark .sk-screen,[data-jp-theme-light=false] .sk-screen{color-scheme:dark}
.sk-screen .noUi-handle{border:2px solid var(--jp-ui-font-color1,#333);background:var(--jp-layout-color0,#fff)}
.sk-screen .noUi-target{background:var(--jp-ui-font-color2,#767676)}
.sk-screen .sk-bar .widget-label{width:auto;min-width:0;margin-right:6px}
.sk-screen .widget-checkbox{width:auto}
.sk-screen .widget-hslider .slider-container{overflow:visible}
.sk-screen input,.sk-screen select{color:var(--jp-ui-font-color0,inherit)}
.sk-screen input::placeholder{color:var(--jp-ui-font-color2,#555);opacity:1}
.sk-screen :focus-visible{outline:3px solid var(--jp-ui-font-color0,currentColor);outline-offset:1px}
.sk-screen .widget-readout:focus-visible,.sk-screen .sk-pane:focus-visible{outline-offset:-3px}
.sk-headline{display:flex;flex-wrap:wrap;gap:4px 28px;padding:6px 12px;border:2px solid currentColor;border-radius:4px;align-items:baseline}
.sk-fact b{font-size:1.15em}
.sk-fact .sk-price{font-size:1.6em;font-variant-numeric:tabular-nums}
.sk-table{border-collapse:collapse;font-size:13px;line-height:1.35;width:100%;margin-bottom:14px;color:inherit}
.sk-table caption{text-align:left;font-weight:600;padding:4px 0;font-size:14px;color:inherit}
.sk-table th,.sk-table td{border-bottom:1px solid var(--jp-border-color1,#767676);padding:3px 8px;text-align:left;vertical-align:top;color:inherit;
white-space:normal}
.sk-table thead th{border-bottom:2px solid currentColor}
.sk-table tbody th{font-weight:600}
.sk-table .sk-number{text-align:right;font-variant-numeric:tabular-nums;white-space:nowrap}
.sk-table .sk-level{white-space:nowrap}
.sk-screen .sk-why{font:inherit;min-width:24px;min-height:24px;border:1px solid currentColor;border-radius:12px;background:transparent;color:inherit;
cursor:pointer;padding:0}
.sk-alternates thead th.sk-number{white-space:normal;vertical-align:bottom}
.sk-alternates tbody th{min-width:200px;position:sticky;left:0;background:var(--jp-layout-color0,#fff)}
.sk-spent thead th.sk-number,.sk-lessons thead th.sk-number,.sk-draws thead th.sk-number{white-space:normal;vertical-align:bottom}
.sk-control td:last-child,.sk-draws td:last-child{white-space:nowrap}
.sk-spent tbody th,.sk-lessons tbody th{min-width:130px}
.sk-answer{border:2px solid currentColor;margin:6px 0}
.sk-scroll{overflow:auto}
.sk-drawing{margin-bottom:14px;color:var(--jp-ui-font-color0,inherit)}
.sk-drawing svg{max-width:100%;height:auto}
.sk-faults{border:2px dashed currentColor;border-radius:4px;padding:6px 10px;font-weight:600}
.sk-help{margin:0 0 6px 8px;color:var(--jp-ui-font-color1,inherit);font-size:13px;max-width:60ch}
</style>"""
