import { describe, expect, it } from 'vitest';
import { calendarOf } from '../../../lib/handover/dates/calendar';
import { addDays, readDay, readDayOfYear, weekdayOf } from '../../../lib/handover/dates/day';
import {
  jobDates,
  plantingWindow,
  type DatesQuestion,
} from '../../../lib/handover/dates/job-dates';
import {
  firstDayToAsk,
  firstDayToDig,
  lastDayOf,
  lastDayToAsk,
  readSpan,
} from '../../../lib/handover/dates/notice';

const none = new Set<string>();
const span = (text: string) => readSpan(text, '--notice');
/** A Saturday. */
const saturday = '2027-05-08';

const ask = (more: Partial<DatesQuestion> = {}) =>
  jobDates({
    today: '2027-04-01',
    dig: saturday,
    digDays: 2,
    notice: span('3 business days'),
    privateNotice: null,
    valid: null,
    validFrom: 'request',
    holidays: none,
    frost: null,
    plant: null,
    lead: null,
    hires: [],
    locates: [],
    ...more,
  });
const dayOf = (key: string, more: Partial<DatesQuestion> = {}) =>
  ask(more).entries.find((each) => each.key === key)?.day;

describe('notice', () => {
  it('is asked for on the days that services publish for a Saturday', () => {
    expect(weekdayOf(saturday)).toBe(6);
    // Florida: two full business days before a Saturday, by Wednesday
    expect(lastDayToAsk(saturday, span('2 full business days'), none)).toBe('2027-05-05');
    // Pennsylvania: three business days, Monday or Tuesday
    expect(lastDayToAsk(saturday, span('3 business days'), none)).toBe('2027-05-04');
  });

  it('leaves holidays and weekends out, and falls on no such day itself', () => {
    const holidays = new Set(['2027-05-07']);
    expect(lastDayToAsk(saturday, span('2 business days'), holidays)).toBe('2027-05-04');
    // Monday's notice of no day would be asked for on Sunday
    expect(lastDayToAsk('2027-05-10', span('0 business days'), none)).toBe('2027-05-07');
  });

  it('of hours is whole days', () => {
    expect(span('48 hours')).toMatchObject({ days: 2, business: false });
    expect(lastDayToAsk(saturday, span('48 hours'), none)).toBe('2027-05-05');
  });

  it('asked for on its last day ends before digging, and not a day earlier', () => {
    for (let i = 0; i < 30; i++) {
      const dig = addDays('2027-05-01', i);
      for (const words of ['2 business days', '3 to 10 business days', '48 hours', '5 days']) {
        const last = lastDayToAsk(dig, span(words), none);
        expect(firstDayToDig(last, span(words), none) <= dig).toBe(true);
        expect(firstDayToDig(addDays(last, 1), span(words), none) > dig || isWeekend(last)).toBe(
          true,
        );
      }
    }
  });

  it('may not be too early either', () => {
    // ten business days back from Saturday: the days from Monday the 26th of April on
    expect(firstDayToAsk(saturday, span('3 to 10 business days'), none)).toBe('2027-04-25');
    expect(firstDayToAsk(saturday, span('3 business days'), none)).toBeNull();
  });

  it('lasts as long as is said', () => {
    expect(lastDayOf('2027-05-04', span('45 days'), none)).toBe('2027-06-18');
    expect(lastDayOf('2027-05-04', span('4 business days'), none)).toBe('2027-05-10');
    expect(() => span('soon')).toThrow(/^--notice: 'soon' says no number of days; write it/);
  });

  function isWeekend(day: string): boolean {
    return [5, 6, 0].includes(weekdayOf(day));
  }
});

describe('a date', () => {
  it('is read in words and figures', () => {
    for (const text of ['2027-05-13', '13 May 2027', 'May 13, 2027', '13/5/2027', '5/13/2027']) {
      expect(readDay(text, 'x')).toBe('2027-05-13');
    }
    expect(readDay('5/8/2027', 'x', 'day-first')).toBe('2027-08-05');
    expect(readDay('5/8/2027', 'x', 'month-first')).toBe('2027-05-08');
    expect(readDayOfYear('15 May', 'x')).toBe('05-15');
    expect(readDayOfYear('10-05', 'x')).toBe('10-05');
  });

  it('in an order that may be read two ways is asked about', () => {
    expect(() => readDay('5/8/2027', '--dig')).toThrow(
      "--dig: '5/8/2027' may be Thu 5 Aug 2027 or Sat 8 May 2027; write which: 2027-08-05 or 2027-05-08.",
    );
    for (const text of ['31/2/2027', '2027-02-30', 'soon', '']) {
      expect(() => readDay(text, '--dig')).toThrow(/is no date; write it as/);
    }
    expect(() => readDayOfYear('5/8', '--last-frost')).toThrow(/no day of the year/);
  });
});

describe('the days of a job', () => {
  it('follow the day of digging', () => {
    const before = ask().entries;
    const after = ask({ dig: addDays(saturday, 7) }).entries;
    expect(after.map(({ key }) => key).sort()).toEqual(before.map(({ key }) => key).sort());
    expect(dayOf('ask-public')).toBe('2027-05-04');
    expect(dayOf('ask-public', { dig: addDays(saturday, 7) })).toBe('2027-05-11');
    expect(dayOf('plant')).toBe('2027-05-10');
  });

  it('name a locate that ends before digging does, and when to renew it', () => {
    const { conflicts, entries } = ask({ digDays: 20, valid: span('14 days') });
    expect(conflicts).toEqual([
      'The locate ends on Tue 18 May 2027, before digging does on Thu 27 May 2027: renew it by Thu 13 May 2027, or dig nothing after it.',
    ]);
    expect(entries.map(({ key }) => key)).toContain('renew-public');
    expect(ask({ digDays: 2, valid: span('14 days') }).conflicts).toEqual([]);
  });

  it('name locates on record that end too early or begin too late', () => {
    const locates = [
      { name: 'gas', on: '2027-05-01', until: '2027-05-08' },
      { name: 'water', on: '2027-05-10', until: '2027-06-10' },
      { name: 'sewer', on: '2027-05-01', until: '2027-06-10' },
    ];
    const { conflicts } = ask({ locates });
    expect(conflicts).toHaveLength(2);
    expect(conflicts[0]).toMatch(/locate of gas ends on Sat 8 May/);
    expect(conflicts[1]).toMatch(/locate of water is dated/);
  });

  it('say from when on one may dig where it is too late to ask', () => {
    const { conflicts } = ask({ today: '2027-05-06' });
    expect(conflicts[0]).toMatch(/had to be asked by Tue 4 May 2027.*may begin on Wed 12 May 2027/);
  });

  it('judge the day of planting by the frosts that are given alone', () => {
    const frost = { last: '05-15', first: '10-05' };
    expect(ask().notes.join(' ')).toMatch(/Frost dates are not given/);
    expect(ask({ frost }).conflicts[0]).toMatch(
      /Planting on Mon 10 May 2027 lies outside Sat 15 May 2027 to Tue 24 Aug 2027/,
    );
    expect(ask({ frost, plant: '2027-05-20' }).conflicts).toEqual([]);
    // where the season runs over the end of the year
    expect(plantingWindow('2027-11-20', { last: '09-20', first: '05-10' })).toEqual({
      from: '2027-09-20',
      to: '2028-03-29',
    });
    expect(plantingWindow('2028-02-20', { last: '09-20', first: '05-10' })?.from).toBe(
      '2027-09-20',
    );
  });
});

describe('a calendar file', () => {
  const { entries } = ask({
    hires: ['mini digger; 1.5 t, tracked'],
    privateNotice: span('5 days'),
  });
  const file = calendarOf(
    entries,
    'Żółw: the lot of a very long name, which has to be folded ÄÖÜ',
    '2027-04-01',
  );

  it('has lines of at most 75 octets, ended by CR LF, that unfold to what was said', () => {
    const lines = file.split('\r\n');
    expect(lines.pop()).toBe('');
    for (const line of lines) {
      expect(new TextEncoder().encode(line).length).toBeLessThanOrEqual(75);
      expect(line).not.toMatch(/[\r\n]/);
    }
    const unfolded = file.replaceAll('\r\n ', '');
    expect(unfolded).toContain('SUMMARY:Hire: mini digger\\; 1.5 t\\, tracked');
    expect(unfolded).toContain('X-WR-CALNAME:Żółw: the lot of a very long name\\, which');
  });

  it('has an event for each entry, over whole days, the end not counted', () => {
    const events = file.replaceAll('\r\n ', '').split('BEGIN:VEVENT').slice(1);
    expect(events).toHaveLength(entries.length);
    const dig = events.find((event) => event.includes('SUMMARY:Dig\r\n')) ?? '';
    expect(dig).toContain('DTSTART;VALUE=DATE:20270508');
    expect(dig).toContain('DTEND;VALUE=DATE:20270510');
    expect(dig).toContain('DTSTAMP:20270401T000000Z');
  });

  it('keeps the names of entries when days move, and its bytes when nothing does', () => {
    const uids = (text: string) => [...text.matchAll(/^UID:(.*)$/gm)].map(([, uid]) => uid).sort();
    const later = ask({ dig: addDays(saturday, 9) }).entries;
    expect(uids(calendarOf(later, 'a', '2027-04-02'))).toEqual(
      uids(calendarOf(ask().entries, 'a', '2027-04-01')),
    );
    expect(new Set(uids(file)).size).toBe(entries.length);
    expect(calendarOf(entries, 'a', '2027-04-01')).toBe(calendarOf(entries, 'a', '2027-04-01'));
  });
});
