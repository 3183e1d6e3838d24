/**
 * The panel's page: its policy, its style, its script, and nothing that comes from a build. All it
 * shows it is told by messages.
 *
 * Must not know: builds, the editor.
 */

/** `nonce`: fresh for each page. */
export function pageOf(script: string, nonce: string): string {
  const policy = `default-src 'none'; script-src 'nonce-${nonce}'; style-src 'nonce-${nonce}'`;
  // The script is ours; what would end it early is kept from being read as such.
  const safe = script.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Picture</title>
<style nonce="${nonce}">${panelStyle}</style>
</head>
<body>
<main id="app"></main>
<script nonce="${nonce}">${safe}</script>
</body>
</html>`;
}

const panelStyle = `
body{margin:0;padding:0;color:var(--vscode-editor-foreground);background:var(--vscode-editor-background);font:var(--vscode-font-size,13px)/1.4 var(--vscode-font-family,sans-serif);--ink:var(--vscode-editor-foreground);--paper:var(--vscode-editor-background);--part:var(--vscode-editor-foreground);--tight:var(--vscode-errorForeground);--quiet:var(--vscode-descriptionForeground);--band:var(--vscode-editor-selectionBackground);--lit:var(--vscode-textLink-foreground)}
main{display:flex;flex-direction:column;height:100vh;min-height:0}
.bar{display:flex;flex-wrap:wrap;gap:6px;padding:6px 8px;border-bottom:1px solid var(--vscode-panel-border,transparent)}
.bar select{flex:1 1 9em;min-width:0}
select,button{color:var(--vscode-dropdown-foreground);background:var(--vscode-dropdown-background);border:1px solid var(--vscode-dropdown-border,var(--vscode-contrastBorder,transparent));font:inherit;padding:2px 6px;max-width:100%}
button{cursor:pointer}
:focus-visible{outline:1px solid var(--vscode-focusBorder);outline-offset:1px}
.banner{padding:3px 8px;border-left:4px double var(--vscode-editorWarning-foreground)}
.banner[hidden]{display:none}
.view{flex:1 1 0;overflow:hidden;position:relative;min-height:0;touch-action:none;cursor:grab}
.view.dragging{cursor:grabbing}
.stage{transform-origin:0 0;position:absolute;left:0;top:0}
.stage svg{display:block}
.told{padding:3px 8px;min-height:1.4em;border-top:1px solid var(--vscode-panel-border,transparent)}
details{max-height:35vh;overflow:auto;padding:2px 8px}
table{border-collapse:collapse;width:100%}
th,td{text-align:left;padding:1px 8px 1px 0;vertical-align:top}
td button{border:0;background:none;color:var(--vscode-textLink-foreground);padding:0;text-align:left}
.drawing .dimension,.drawing .note{cursor:pointer}
.drawing .dimension:focus,.drawing .note:focus{outline:none}
.drawing .lit line,.drawing .lit path{stroke:var(--lit);stroke-width:.6}
.drawing .lit .arrow,.drawing .lit .dot{fill:var(--lit)}
.drawing .lit text{fill:var(--lit);font-weight:700}
.drawing .dimension:focus-visible .touch,.drawing .note:focus-visible .touch{stroke:var(--vscode-focusBorder);stroke-width:.4}
.drawing .lit .touch{stroke:none}
body.vscode-high-contrast .drawing line,body.vscode-high-contrast .drawing path{stroke-width:.4}
body.vscode-high-contrast .drawing .outline{stroke-width:.8}
`;
