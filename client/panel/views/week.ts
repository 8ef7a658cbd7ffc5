import type { SetMember, WeekView } from '../../../server/src/protocol/panel/weekView.ts';
import { techniqueActions, type ViewActions } from '../actions.ts';
import { drawForecast } from '../charts/forecastChart.ts';
import { drawWeek, numberedTechniques, type NumberedTechnique } from '../charts/weekChart.ts';
import {
  ensureButton,
  ensureChild,
  renderList,
  renderFacts,
  renderTexts,
  setProse,
  setText,
  renderDataTable,
  type HtmlSelection,
} from '../dom.ts';
import { chartWidth, renderFigure } from '../figure.ts';
import { showSwaps, showTonight } from './tonight.ts';

/** A technique that was in the practice set, as it is now. */
function memberOutside(member: SetMember, { outside }: WeekView): SetMember {
  const now = outside.find(({ technique }) => technique === member.technique);
  return now ?? { ...member, pinned: false, leftOut: false };
}

/** The week: the practice set, the blocks of the next days, and the gain to expect from them. */
export function showWeek(place: HtmlSelection, week: WeekView, actions: ViewActions): void {
  showTonight(place, week.tonight, actions);
  setText(ensureChild(place, 'h2', 'week-title'), 'The week');
  setProse(ensureChild(place, 'p', 'summary'), week.summary);
  setText(ensureChild(place, 'h2', 'set-title'), 'Practice set');
  const inSet = new Set(week.set.map(({ technique }) => technique));
  const set = ensureChild(place, 'ol', 'set');
  renderList(
    set,
    'li',
    'set-member',
    actions.rows.of(set, week.set, ({ technique }) => technique),
    ({ key }) => key,
    (item, row) => {
      const member = row.gone ? memberOutside(row.item, week) : row.item;
      item.classed('gone', row.gone);
      const head = ensureChild(item, 'div', 'member-head');
      setText(ensureChild(head, 'span', 'name'), member.name);
      setText(ensureChild(head, 'span', 'tag'), member.standingText);
      techniqueActions(head, member, actions, 'week');
    },
  );
  const joining = new Set(
    week.days.flatMap(({ blocks }) =>
      blocks.flatMap(({ technique, name }) => (inSet.has(technique) ? [] : [name])),
    ),
  );
  setText(
    ensureChild(place, 'p', 'later').classed('absent', joining.size === 0),
    `Joining this week: ${[...joining].join(', ')}`,
  );
  const tonight = new Set(week.tonight.steps.map(({ technique }) => technique));
  showSwaps(
    place,
    'set-swaps',
    week.tonight.swaps.filter(({ technique }) => !tonight.has(technique)),
    actions,
  );

  const days = renderFigure(
    place,
    'week-days',
    'The next seven days',
    week.summary,
    week,
    actions,
    (drawing, width) => drawWeek(drawing, week, width),
  );
  ensureButton(ensureChild(days, 'figcaption', 'figcaption'), 'calendar', 'Save as a Calendar…', () =>
    actions.send({ type: 'calendar' }),
  );
  showNumbers(days, numberedTechniques(week, chartWidth(actions)));
  renderDataTable(
    days,
    'days-table',
    'The days as a table',
    ['Day', 'Practice and runs', 'In all'],
    week.days.map(({ label, text, totalText }) => [label, text, totalText]),
  );
  if (week.forecast.length > 1) {
    const gain = renderFigure(
      place,
      'gain-ahead',
      'Expected seconds saved per run, morning by morning',
      week.forecast.at(-1)?.text ?? '',
      week,
      actions,
      (drawing, width) => drawForecast(drawing, week, width),
    );
    renderDataTable(
      gain,
      'gain-table',
      'The gain as a table',
      ['Morning', 'Gain'],
      week.forecast.map(({ date, text }) => [date, text]),
    );
  }
  renderFacts(place, 'week-facts', week.facts);
  renderTexts(ensureChild(place, 'ul', 'notes'), 'li', 'note', week.notes, setProse);
}

/** What the numbers in the blocks of a narrow chart mean, right below it. */
function showNumbers(place: HtmlSelection, numbered: readonly NumberedTechnique[]): void {
  renderList(
    ensureChild(place, 'ul', 'key').classed('absent', numbered.length === 0),
    'li',
    'entry',
    numbered,
    ({ technique }) => technique,
    (item, { number, name }) => {
      setText(ensureChild(item, 'span', 'number'), String(number));
      setText(ensureChild(item, 'span', 'means'), name);
    },
  );
}
