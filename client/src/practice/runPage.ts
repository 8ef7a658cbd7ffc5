import type { Page } from '../webview/page.ts';

/** The page of a run: its script fills the elements written here, and adds a row for each segment and technique. */
export const runPage: Page = {
  name: 'run',
  title: 'Log a run',
  body: `<main id="run">
<header>
<p id="route"></p>
<h1>Log a run</h1>
</header>
<p id="changed" role="status" hidden></p>
<form id="form" hidden novalidate>
<fieldset class="choices">
<legend>What to log</legend>
<label><input type="radio" name="kind" id="kind-run"> One run</label>
<label><input type="radio" name="kind" id="kind-evening"> Several runs, summed up</label>
</fieldset>
<section id="one" aria-label="The run">
<div class="row">
<p class="field"><label for="outcome">How it ended</label> <select id="outcome">
<option value="finished">Finished</option>
<option value="reset">Ended by a reset</option>
<option value="miss">Ended by a missed technique</option>
<option value="death">Ended by a death</option>
</select></p>
<p class="field" id="ended-at-field"><label for="ended-at">Ended in</label> <select id="ended-at"></select></p>
<p class="field" id="ended-by-field"><label for="ended-by">Missed</label> <select id="ended-by"></select></p>
</div>
<h2 id="times-title">Times</h2>
<p class="quiet" id="times-hint">Fill in the times that you know and leave the others empty. Enter goes to the next field. Paste a column of times into a field, and the fields below it are filled in, too.</p>
<p class="quiet" id="no-times" hidden>The run ended in the first segment, so no segment has a time.</p>
<table id="times" aria-labelledby="times-title">
<thead><tr><th scope="col">Segment</th><th scope="col">Time</th><th scope="col">Usual</th></tr></thead>
<tbody id="time-rows"></tbody>
</table>
<div id="total-field">
<p class="field"><label for="total">Final time</label> <input id="total" autocomplete="off" spellcheck="false" aria-describedby="total-hint total-problem"></p>
<p class="quiet" id="total-hint">Leave it empty if every segment has a time.</p>
<p class="problem" id="total-problem" hidden></p>
</div>
<h2 id="uses-title">Techniques</h2>
<p class="quiet" id="uses-hint">The techniques that you use in runs are ticked as landed. Untick what you missed.</p>
<p class="fields"><button type="button" id="none-tried">No Techniques</button> <button type="button" id="as-suggested">Tick as Suggested</button></p>
<table id="uses" aria-labelledby="uses-title">
<thead><tr><th scope="col">Technique</th><th scope="col">Tried</th><th scope="col">Landed</th></tr></thead>
</table>
<p class="field"><label for="began">Began</label> <input id="began" type="datetime-local" aria-describedby="began-hint"></p>
<p class="quiet" id="began-hint">Leave it empty if the run has just ended.</p>
</section>
<section id="evening" aria-label="The runs" hidden>
<div class="row">
<p class="field"><label for="date">Date</label> <input id="date" type="date"></p>
<p class="field"><label for="runs">Runs started</label> <input id="runs" inputmode="numeric" autocomplete="off"></p>
<p class="field"><label for="finished">Finished</label> <input id="finished" inputmode="numeric" autocomplete="off"></p>
<p class="field"><label for="minutes">Minutes played</label> <input id="minutes" inputmode="numeric" autocomplete="off"></p>
</div>
<details id="endings"><summary>Where the other runs ended</summary>
<table aria-label="Where the other runs ended">
<thead><tr><th scope="col">Segment</th><th scope="col">Resets</th><th scope="col">Misses</th><th scope="col">Deaths</th></tr></thead>
<tbody id="ending-rows"></tbody>
</table>
</details>
<details id="counts"><summary>Techniques that were tried</summary>
<table aria-label="Techniques that were tried">
<thead><tr><th scope="col">Technique</th><th scope="col">Landed</th><th scope="col">Tries</th></tr></thead>
<tbody id="count-rows"></tbody>
</table>
</details>
</section>
<p class="field"><label for="on">Played on</label> <input id="on" autocomplete="off" aria-describedby="on-hint"></p>
<p class="quiet" id="on-hint">The console or version, in your own words. Leave it empty if it does not matter.</p>
<div id="foot">
<p id="problem" role="alert"></p>
<p id="sum"></p>
<p class="fields"><button type="submit" id="save" class="main"></button>
<button type="button" id="clear">Clear the Form</button></p>
</div>
<p id="said" class="unseen" role="status"></p>
</form>
</main>`,
};
