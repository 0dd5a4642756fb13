/** Makes an estimate, reads a problem and a quantity: node program.js URL. */

import createClient from "openapi-fetch";
import type { components, paths } from "./schema.js";

type Request = components["schemas"]["EstimateRequest"];
type Length = components["schemas"]["Length"];

const [base] = process.argv.slice(2);
if (base === undefined) throw new Error("name the service's address");
const key = process.env["FILMBUILD_KEY"];
const client = createClient<paths>({
  baseUrl: base,
  headers: key === undefined ? {} : { authorization: `Bearer ${key}` },
});

const request: Request = {
  units: "si",
  reference: "Boat house (demo data)",
  site: {
    name: "Boat house (demo data)",
    areas: [
      {
        id: "slip",
        outline: { kind: "rectangle", length: { value: 12, unit: "m" }, width: "8 m" },
      },
    ],
  },
  job: {
    system: "harbour-thin-film",
    rate_book: "main-usd",
    start: "2026-09-07",
    conditions: {
      air_temperature: "20 degC",
      surface_temperature: "19 degC",
      relative_humidity_percent: 55,
    },
    calendar: { time_zone: "America/Chicago" },
    terms: { margin_percent: "20" },
  },
};

/** Answers give a value and a unit; the type is shared with requests, which may give text. */
function metres(length: Length): number {
  if (typeof length === "string" || length.unit !== "m") throw new Error("not in metres");
  return length.value;
}

const made = await client.POST("/v1/estimates", { body: request });
if (made.data === undefined) throw new Error(JSON.stringify(made.error));
const stored = made.data;
const estimate = stored.document;

const wrong: Request = { ...request, job: { ...request.job, system: "no-such-system" } };
const refused = await client.POST("/v1/estimates", { body: wrong });
if (refused.error === undefined) throw new Error("accepted a system that there is not");
const faults: string[] = (refused.error.errors ?? []).map(
  (fault) => `${fault.pointer} ${fault.code}`,
);

const total: string = estimate.price.total.amount;
console.log(
  JSON.stringify({
    id: stored.id,
    total,
    walls: metres(estimate.takeoff.totals.wall_length),
    status: refused.response.status,
    faults,
  }),
);
