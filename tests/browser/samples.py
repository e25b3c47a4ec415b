"""Two small guides that hold one of everything the style sheet knows, so that the shell is tried without the rest."""

from __future__ import annotations

from guidegen.site.pages.page import Heading, Page, SearchEntry

CRUMBS = (("Home", "index.html"), ("Sample machine", ""), ("Sample kit", ""))

CHART = """
<figure class="gg-chart" id="shot-chart">
<p class="gg-chart__says">With the kit the sensor drops a third as far.</p>
<svg role="img" aria-labelledby="shot-t shot-d" viewBox="0 0 480 320">
<title id="shot-t">Sensor temperature during a shot</title>
<desc id="shot-d">Two falling lines; the one with the kit falls less.</desc>
<rect class="gg-span" x="52" y="14" width="160" height="262"/>
<path style="fill:none;stroke:currentColor;stroke-width:0.8" d="M52 14V276H466"/>
<path class="gg-band gg-with" d="M52 40L200 80L460 50L460 64L200 110L52 44z"/>
<path class="gg-line gg-without" d="M52 40L200 220L460 80"/>
<path class="gg-line gg-with" d="M52 40L200 96L460 56"/>
<text class="gg-label gg-without" x="215" y="226">without</text>
<text class="gg-label gg-with" x="215" y="90">with the kit</text>
<text class="gg-label" x="60" y="300">0 s</text><text class="gg-label" x="430" y="300">60 s</text>
</svg>
<figcaption>Two-node model, assumed losses, edition sample.</figcaption>
<details class="gg-data"><summary>The numbers of this chart</summary>
<div class="gg-scroll" tabindex="0" role="region" aria-label="Sensor temperature: table"><table>
<thead><tr><th scope="col">Time</th><th scope="col">Without</th><th scope="col">With</th></tr></thead>
<tbody><tr><th scope="row">0 s</th><td>93.0 °C</td><td>93.0 °C</td></tr>
<tr><th scope="row">28 s</th><td>87.6 °C</td><td>91.4 °C</td></tr></tbody></table></div></details>
</figure>"""

DROP = '<span class="q"><span class="q-metric">5.4\u202fK</span><span class="q-imperial">9.7\u202f°F</span></span>'

OVERVIEW = f"""
<h1 id="top-of-guide">Sample machine with Sample kit</h1>
<p class="gg-status">Edition sample · calculated, not yet built on this variant</p>
<div class="gg-answers">
<section class="gg-answer" aria-labelledby="fit"><h2 id="fit">Does it fit?</h2>
<p class="gg-verdict gg-verdict--fits-with-conditions">Fits with conditions</p>
<p>It needs:</p><ul><li>the Banjo Feed, because the inlet stands 14 mm out</li></ul>
<p><a href="install.html">Check your machine</a></p></section>
<section class="gg-answer" aria-labelledby="gain"><h2 id="gain">Worth it?</h2>
<p class="gg-headline"><a class="n" href="#sure">×\u202f0.29</a> <span class="gg-range">0.24 to 0.35</span></p>
<p>During a double the sensor drops by <span class="gg-with">1.6\u202fK</span> instead of
<a class="n" href="#sure">{DROP}</a>.</p>
<p>Little is gained for small drinks.</p></section>
<section class="gg-answer gg-answer--whole" aria-labelledby="cost"><h2 id="cost">What it costs</h2>
<ul class="gg-costs"><li>Ready 4 min later <span class="gg-range">2 to 9</span></li><li>8 % more energy</li>
<li>0.5 kg more mass</li><li>2 cuts that stay</li><li>2 h 40 min of work</li></ul></section>
</div>
<h2 id="downsides">Before you decide</h2>
<p>The downsides, most important first.</p>
<div class="gg-scroll" tabindex="0" role="region" aria-label="Downsides"><table class="gg-downsides gg-stacked">
<thead><tr><th scope="col">Downside</th><th scope="col">How much</th><th scope="col">How likely</th>
<th scope="col">What you can do</th></tr></thead>
<tbody><tr><th scope="row">Two cuts in the insulation stay.</th><td class="gg-amount" data-head="How much"></td>
<td class="gg-likely" data-head="How likely">Certain</td><td data-head="What you can do">Keep the pieces.</td></tr>
<tr><th scope="row">The machine is ready later.</th><td class="gg-amount" data-head="How much">4 min</td>
<td class="gg-likely" data-head="How likely">Likely</td><td data-head="What you can do">Switch on earlier.</td></tr>
</tbody></table></div>
<h2 id="shot">A double before and after</h2>{CHART}
<h2 id="sure">How sure we are</h2>
<p>The sensor drop rests on three assumed numbers.</p>
<table class="gg-small"><caption>Drop by drink</caption>
<thead><tr><th scope="col">Drink</th><th scope="col">Ratio</th></tr></thead>
<tbody><tr><th scope="row">Double</th><td>× 0.29</td></tr></tbody></table>
<ul class="gg-picks"><li><h3 id="pick-mk2"><a href="install.html">Sample machine Mark 2</a></h3>
<p>Two fixing ears on the boiler.</p></li>
<li><h3 id="pick-mk3"><a href="install.html">Sample machine Mark 3</a></h3><p>No ears.</p></li></ul>
<p class="gg-invented">This machine and this kit are invented.</p>
<nav class="gg-next" aria-label="More about this kit on this machine"><ul><li><a href="install.html">Install</a></li>
<li><a href="../../../safety.html">Safety</a></li></ul></nav>
"""


def hazard(word: str, text: str) -> str:
    """One hazard of each signal word."""
    return f"""<aside class="gg-hazard gg-hazard--{word.lower()}" aria-label="{word}: {text}">
<p class="gg-hazard__word">{word}</p><div class="gg-hazard__text"><p><strong>{text}</strong> It can harm you.</p>
<ul><li>Pull the plug.</li></ul></div></aside>"""


INSTALL = f"""
<h1 id="top-of-guide">Sample machine with Sample kit: install</h1>
<p class="gg-status">Edition sample · 2 h 40 min</p>
<div data-ticks="sample/kit@sample">
<section class="gg-phase" data-phase="drain"><h2 id="drain">1 Cool and drain</h2>
<p class="gg-phase__facts">40 min <span class="phase-progress"></span></p>
<ol class="gg-steps">
<li class="gg-step" id="drain-1">{hazard("Danger", "Mains voltage.")}{hazard("Warning", "Scalding water.")}
<label class="gg-step__do"><input type="checkbox" data-tick="drain-1"> <span>
<span class="gg-step__number">1.1</span> Pull the plug out of the wall.</span></label>
<p class="gg-step__more">Keep the plug where you see it while you work.</p>
<p class="gg-step__right"><b>It is right when</b> the plug lies on the bench.</p></li>
<li class="gg-step" id="drain-2">{hazard("Caution", "Sharp edges.")}{hazard("Notice", "Water on the board.")}
<label class="gg-step__do"><input type="checkbox" data-tick="drain-2"> <span>
<span class="gg-step__number">1.2</span> Let the boiler cool until you can keep a hand on it.</span></label>
<p class="gg-step__right"><b>It is right when</b> the thermometer shows less than
<span class="q"><span class="q-metric">45\u202f°C</span><span class="q-imperial">113\u202f°F</span></span>.</p>
<figure class="gg-drawing"><svg role="img" aria-label="Boiler seen from the side" viewBox="0 0 200 160">
<rect class="gg-stays" x="60" y="20" width="80" height="110"/><path class="gg-kit" d="M50 60h100M50 70h100M50 80h100"/>
<path class="gg-goes" d="M60 130l-20 20M140 130l20 20"/><path class="gg-dimension" d="M60 10h80"/></svg>
<figcaption>Side view. Copper: the kit.</figcaption></figure></li>
</ol>
<div class="gg-hold" role="group" aria-label="Hold point"><p class="gg-hold__word">Hold point</p>
<p>Do not go on before the boiler is below 45 °C.</p><p class="gg-hold__line">Measured</p></div>
</section>
<section class="gg-phase" data-phase="fit-coil"><h2 id="fit-coil">2 Fit the coil</h2>
<p class="gg-phase__facts">60 min <span class="phase-progress"></span></p>
<ol class="gg-steps"><li class="gg-step" id="fit-1"><label class="gg-step__do"><input type="checkbox" data-tick="fit-1">
<span><span class="gg-step__number">2.1</span> Slide the coil over the boiler from below.</span></label></li></ol>
</section>
<p><button type="button" class="gg-clear" data-clear-ticks hidden>Clear all ticks</button></p>
</div>
"""


def pages() -> tuple[Page, ...]:
    """The two guides as the pages stage would hand them over."""
    overview = tuple(
        Heading(2, place, text)
        for place, text in (
            ("fit", "Does it fit?"),
            ("gain", "Worth it?"),
            ("cost", "What it costs"),
            ("downsides", "Before you decide"),
            ("shot", "A double before and after"),
            ("sure", "How sure we are"),
        )
    )
    install = (Heading(2, "drain", "1 Cool and drain"), Heading(2, "fit-coil", "2 Fit the coil"))
    return (
        Page(
            "guides/sample/kit/index.html",
            "Sample machine with Sample kit",
            "What the sample kit does to the sample machine.",
            OVERVIEW,
            overview,
            (
                SearchEntry("", "Sample machine with Sample kit", "sample kit zebrawood sensor drop"),
                SearchEntry("downsides", "Before you decide", "cuts that stay"),
            ),
            CRUMBS,
            "overview",
        ),
        Page(
            "guides/sample/kit/install.html",
            "Sample machine with Sample kit: install",
            "How the sample kit is fitted.",
            INSTALL,
            install,
            (SearchEntry("", "Install the Sample kit", "phases steps hold points"),),
            (*CRUMBS[:2], ("Sample kit", "guides/sample/kit/index.html"), ("Install", "")),
            "install",
        ),
    )
