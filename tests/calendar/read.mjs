// Reads a calendar with a parser that is not ours, and prints what it understood as JSON.
// In: {"calendar": "BEGIN:VCALENDAR…", "zones": ["Europe/Madrid", …]}
// Out: properties of the calendar, its events, and those days that are another day in one of the zones.
import { readFileSync } from 'node:fs';
import ICAL from 'ical.js';

const asked = JSON.parse(readFileSync(0, 'utf8'));
const root = new ICAL.Component(ICAL.parse(asked.calendar));
const text = (component, name) => component.getFirstPropertyValue(name)?.toString() ?? null;
const day = (date) => [date.getFullYear(), date.getMonth() + 1, date.getDate()].map((part) => String(part).padStart(2, '0')).join('-');
const components = root.getAllSubcomponents();
const events = components.filter((component) => component.name === 'vevent');

const shifted = [];
for (const zone of asked.zones ?? []) {
  process.env.TZ = zone;
  for (const component of events) {
    const event = new ICAL.Event(component);
    for (const time of [event.startDate, event.endDate]) {
      if (day(time.toJSDate()) !== time.toString()) shifted.push(`${zone}: ${event.uid} ${time} is ${day(time.toJSDate())}`);
    }
  }
}

console.log(JSON.stringify({
  properties: Object.fromEntries(root.getAllProperties().map((property) => [property.name, property.getFirstValue().toString()])),
  others: components.filter((component) => component.name !== 'vevent').map((component) => component.name),
  shifted,
  events: events.map((component) => {
    const event = new ICAL.Event(component);
    return {
      uid: event.uid,
      sequence: event.sequence,
      stamp: text(component, 'dtstamp'),
      modified: text(component, 'last-modified'),
      created: text(component, 'created'),
      start: event.startDate.toString(),
      end: event.endDate.toString(),
      allDay: event.startDate.isDate && event.endDate.isDate,
      zone: component.getFirstProperty('dtstart').getParameter('tzid') ?? null,
      busy: text(component, 'transp'),
      status: text(component, 'status'),
      summary: event.summary,
      description: event.description,
      location: event.location,
      url: text(component, 'url'),
      categories: component.getAllProperties('categories').flatMap((property) => property.getValues()),
      names: component.getAllProperties().map((property) => property.name),
    };
  }),
}));
