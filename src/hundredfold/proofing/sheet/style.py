"""How the proof sheet looks: paper, ink and three marks that also differ in shape, not in colour alone."""

STYLE = """
:root{--paper:#f7f3ec;--card:#fffdf9;--ink:#26221c;--soft:#6d655a;--line:#e4dccf;--stop:#a4282b;
--look:#8a5a00;
--fine:#2c6a45;--repair:#2b5f8a}
*{box-sizing:border-box}
body{margin:0;background:var(--paper);color:var(--ink);
font:16px/1.5 Georgia,"Iowan Old Style","Times New Roman",serif}
header,main{max-width:1280px;margin:0 auto;padding:0 28px}
header{padding-top:44px}
header>p:first-child{margin:0;font:600 13px/1 system-ui,sans-serif;letter-spacing:.14em;
text-transform:uppercase;
color:var(--soft)}
h1{font-size:44px;line-height:1.1;margin:.2em 0 .25em;font-weight:600}
h2{font-size:26px;margin:56px 0 12px;font-weight:600}
h3{font-size:21px;line-height:1.25;margin:0 0 .35em;font-weight:600}
.totals{display:flex;gap:44px;margin:22px 0 0;padding:18px 0;border-top:1px solid var(--line);
border-bottom:1px solid var(--line)}
.totals b{display:block;font-size:34px;line-height:1.1;font-weight:600}
.totals span,.file,figcaption,.legend,.strip,summary,.more{
font-family:system-ui,-apple-system,"Segoe UI",sans-serif}
.totals span{color:var(--soft);font-size:14px}
.legend{display:flex;flex-wrap:wrap;gap:20px;color:var(--soft);font-size:14px;margin:0 0 20px}
.key{display:inline-flex;align-items:center;gap:8px}
.glossary{display:flex;flex-wrap:wrap;gap:4px 22px;margin:-6px 0 24px;color:var(--soft);
font:14px/1.45 system-ui,-apple-system,"Segoe UI",sans-serif}
.glossary dt,.glossary dd{display:inline;margin:0} .glossary dt{font-weight:600;color:var(--ink)}
main>article{display:grid;grid-template-columns:minmax(0,1.7fr) minmax(0,1fr);gap:22px 32px;
background:var(--card);
border:1px solid var(--line);border-radius:14px;padding:22px;margin:0 0 24px;box-shadow:0 1px 2px #0000000a}
.figures{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:16px;align-content:start}
.n1,.n2{grid-template-columns:repeat(2,minmax(0,1fr))}
main>article>details{grid-column:1/-1;border-top:1px solid var(--line);padding-top:14px}
figure{margin:0}
img{display:block;width:100%;height:auto;border-radius:10px;aspect-ratio:1}
figcaption{font-size:13px;line-height:1.35;color:var(--soft);margin-top:8px}
figcaption b{display:block;color:var(--ink);font-size:14px}
figcaption b::before{display:inline-block;width:1.25em;font-weight:700}
.stop figcaption b,figure.stop figcaption b{color:var(--stop)}
figure.stop figcaption b::before{content:"\\00d7"}
figure.look figcaption b{color:var(--look)} figure.look figcaption b::before{content:"!"}
figure.repair figcaption b{color:var(--repair)} figure.repair figcaption b::before{content:"\\2192"}
figure.best figcaption b{color:var(--fine)} figure.best figcaption b::before{content:"\\2713"}
.say{font-size:18px;line-height:1.45;margin:0 0 .5em}
.stop .say b{color:var(--stop)} .warn .say b{color:var(--look)}
.try{margin:0 0 1em;color:var(--soft)}
summary{cursor:pointer;font-size:14px;font-weight:600;margin-bottom:8px}
.strips{columns:2;column-gap:40px;padding-top:4px}
.strip{display:grid;grid-template-columns:175px 1fr;gap:4px 12px;font-size:13px;color:var(--soft);
align-items:center;break-inside:avoid;min-height:30px}
.row{display:flex;flex-wrap:wrap;gap:9px}
.barred{font:13px/1.45 system-ui,-apple-system,"Segoe UI",sans-serif;color:var(--soft);margin:10px 0 0}
.also{margin:0 0 1em;padding:0;list-style:none;font-size:15px;line-height:1.4;color:var(--soft)}
.also li{position:relative;margin:0 0 .45em;padding-left:26px}
.also li::before{content:"!";position:absolute;left:0;top:2px;width:17px;height:17px;border-radius:50%;
background:var(--look);color:#fff;font:700 12px/17px system-ui,sans-serif;text-align:center}
.swatch{position:relative;display:inline-block;width:20px;height:20px;border-radius:50%;
background:var(--body);
box-shadow:inset 0 0 0 1px #0000002e;flex:none}
.swatch.two{background:linear-gradient(90deg,var(--body) 50%,var(--second) 50%)}
.swatch.best{outline:2.5px solid var(--fine);outline-offset:1.5px;margin:0 3px}
.swatch.look::after{content:"!";position:absolute;right:-6px;top:-7px;width:15px;height:15px;
border-radius:50%;border:1px solid var(--card);
background:var(--look);color:#fff;font:700 11px/13px system-ui,sans-serif;text-align:center}
.swatch.stop::after{content:"";position:absolute;left:-4px;right:-4px;top:9px;height:3px;
background:var(--stop);border:solid var(--card);border-width:1px 0;box-sizing:content-box;
transform:rotate(-45deg)}
.file{color:var(--soft);font-size:12px;margin:12px 0 0;overflow-wrap:anywhere}
.ready{display:grid;grid-template-columns:repeat(auto-fill,minmax(150px,1fr));gap:20px}
.ready h3{font-size:15px;margin:8px 0 0} .ready .file{margin:2px 0 0} .ready figcaption{display:none}
@media(max-width:860px){header,main{padding:0 16px} header{padding-top:28px} h1{font-size:34px}
.totals{gap:22px;justify-content:space-between} .totals b{font-size:26px}
main>article{grid-template-columns:1fr;gap:16px;padding:14px}
.figures{grid-template-columns:repeat(2,minmax(0,1fr))} .figures figure:first-child:nth-last-child(odd){
grid-column:1/-1}
.say{font-size:17px} .strips{columns:1} .strip{grid-template-columns:1fr;margin-bottom:9px}}
@media print{body{background:#fff} main>article{break-inside:avoid;box-shadow:none}}
"""
