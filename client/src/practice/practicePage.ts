import type { Page } from '../webview/page.ts';

/** The page of the practice view: its script fills the elements written here, and shows or hides them. */
export const practicePage: Page = {
  name: 'practice',
  title: 'Practice block',
  body: `<main id="practice" data-phase="">
<header>
<p class="fields" id="view-buttons"><span id="route"></span> <button type="button" id="large" aria-pressed="false">Large</button></p>
<h1 id="name">Practice block</h1>
<div id="line">
<p id="from" hidden></p>
<p id="said" role="status"></p>
</div>
</header>
<dl id="board" aria-label="This block" hidden>
<div class="wide"><dt id="left-title">Time left</dt><dd id="left"></dd>
<dd id="length"><button type="button" id="less">5 Min Less</button> <button type="button" id="more">5 Min More</button> <button type="button" id="pause">Pause</button></dd></div>
<div class="half"><dt>Attempts</dt><dd id="attempts"></dd></div>
<div class="half"><dt>Landed</dt><dd id="landed-count"></dd></div>
<div class="third"><dt>Attempts per minute</dt><dd id="pace"></dd></div>
<div class="third"><dt>Landed in the last 30&nbsp;s</dt><dd id="lately"></dd></div>
<div class="third" id="usual-field"><dt>You usually land</dt><dd id="usual"></dd></div>
</dl>
<div id="last" hidden>
<p class="quiet" id="tape-title">Last attempts</p>
<p id="tape" role="img"></p>
</div>
<div id="actions" role="group" aria-label="Count an attempt" hidden>
<button type="button" id="do-landed"></button>
<button type="button" id="do-missed"></button>
<button type="button" id="do-back"></button>
<button type="button" id="do-end"></button>
</div>
<form id="counts" hidden>
<p>No attempt was counted here. If you counted yourself, fill in both numbers:</p>
<p class="fields"><label for="landed">Landed</label> <input id="landed" inputmode="numeric" autocomplete="off" size="5">
<label for="tries">of tries</label> <input id="tries" inputmode="numeric" autocomplete="off" size="5">
<button type="submit">Log the Block</button></p>
<p id="counts-said" role="status"></p>
<p class="fields"><button type="button" id="timeOnly">Log the Time Only</button>
<button type="button" id="leaveOut">Leave the Block Out</button></p>
</form>
<section id="after" aria-label="After the block" hidden>
<div id="rest-head">
<h2 id="rest-title"></h2>
<p id="rest-clock"></p>
</div>
<p id="rest-text"></p>
<dl id="result">
<div><dt>Landed in this block</dt><dd id="result-landed"></dd></div>
<div><dt>Before, you usually landed</dt><dd id="result-usual"></dd></div>
<div><dt>Now you usually land</dt><dd id="result-now"></dd></div>
<div class="wide"><dt>Where it stands</dt><dd id="result-standing"></dd></div>
</dl>
<p><button type="button" id="next" class="main"></button></p>
<p class="fields"><button type="button" id="other">Another Technique…</button>
<button type="button" id="close">Done</button>
<button type="button" id="save">Save the Log</button></p>
<p id="next-text"></p>
<p id="rest-caution" class="caution" hidden></p>
</section>
<p id="caution" class="caution" hidden></p>
<section id="about" aria-labelledby="about-title" hidden>
<h2 id="about-title"></h2>
<p id="notes"></p>
<ul id="links"></ul>
</section>
<div id="below">
<details id="binding">
<summary>Keys and gamepad</summary>
<table>
<thead><tr><th scope="col">What</th><th scope="col">Key</th><th scope="col">Gamepad</th></tr></thead>
<tbody id="binding-rows"></tbody>
</table>
<p id="binding-said" role="status"></p>
<p class="quiet">A gamepad counts nothing until you choose one of its buttons. Choose one that the game does not use.</p>
</details>
</div>
<p id="promise" class="quiet"></p>
<div id="notices">
<section id="slow" aria-label="Time between attempts" hidden>
<p id="slow-text"></p>
<p class="fields"><button type="button" id="correct"></button> <button type="button" id="keep">Leave It</button></p>
</section>
<p id="focus" role="alert" hidden></p>
<p id="unanswered" role="alert" hidden></p>
</div>
</main>`,
};
