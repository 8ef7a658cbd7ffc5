import type { SetMember, WeekView } from '../../../server/src/protocol/panel/weekView.ts';
import { techniqueActions, type ViewActions } from '../actions.ts';
import { drawForecast } from '../charts/forecastChart.ts';
import { drawWeek, techniqueNumbers } from '../charts/weekChart.ts';
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
import { renderFigure } from '../figure.ts';
import { showTonight } from './tonight.ts';

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
  const marks = techniqueNumbers(week);
  setText(ensureChild(place, 'h2', 'set-title'), 'Practice set');
  const inSet = new Set(week.set.map(({ technique }) => technique));
  const later = [...marks.keys()].filter((id) => !inSet.has(id));
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
      setText(
        ensureChild(head, 'span', 'mark').attr('aria-hidden', 'true'),
        String(marks.get(member.technique) ?? ''),
      );
      setText(ensureChild(head, 'span', 'name'), member.name);
      setText(ensureChild(head, 'span', 'tag'), member.standingText);
      techniqueActions(head, member, actions, 'week');
    },
  );
  const names = new Map(
    week.days.flatMap(({ blocks }) => blocks.map((block) => [block.technique, block.name])),
  );
  const joining = later.map((id) => `${marks.get(id) ?? ''} ${names.get(id) ?? id}`).join(', ');
  setText(
    ensureChild(place, 'p', 'later').classed('absent', later.length === 0),
    `Joining later: ${joining}`,
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
  ensureButton(days, 'calendar', 'Save as a Calendar…', () => actions.send({ type: 'calendar' }));
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
      'Seconds gained a run, by morning',
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
