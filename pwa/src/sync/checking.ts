// After a server went back to an older copy: which of our entries and photos does it lack? What is
// lacking goes out again, then everything is pulled from the beginning. May be cut off anywhere.

import type { Step } from "./exchange";
import type { Answer, Checking, DigestAnswer, Json, PhoneOwner, Store, Transport } from "./ports";

const MOST_IDS = 2000;
const MOST_PHOTOS = 200;

/** One request's worth of asking. */
export async function check(store: Store, transport: Transport, owner: PhoneOwner): Promise<Step> {
	const { checking } = await store.standing();
	if (!checking || !owner.logbook) return "again";
	const ofEntries = checking.stage === "entries";
	const ids = ofEntries ? await store.idsToCheck(checking.after, MOST_IDS) : [];
	const photos = ofEntries ? [] : await store.photosToCheck(checking.after, MOST_PHOTOS);
	const answer = await transport.digest(owner.logbook.id, ids, photos);
	if (!answer.ok) return refusal(answer);
	if (!isDigest(answer.value)) return "later";
	const { epoch, lacks, lacks_photos } = answer.value;
	if (checking.epoch !== null && checking.epoch !== epoch) await store.beginChecking();
	else await store.settleChecked(lacks, lacks_photos, after(checking, epoch, ids, photos));
	return "again";
}

function after(checking: Checking, epoch: string, ids: string[], photos: string[]): Checking {
	const last = (ids.length ? ids : photos).at(-1);
	if (last !== undefined) return { epoch, stage: checking.stage, after: last };
	return { epoch, stage: checking.stage === "entries" ? "photos" : "pull", after: "" };
}

function refusal({ status, code }: Answer<unknown> & { ok: false }): Step {
	if (status === 401) return code === "shut-out" ? "shut-out" : "signed-out";
	return status === 404 && code === "no-such-logbook" ? "shut-out" : "later";
}

function isDigest(value: Json | DigestAnswer): value is DigestAnswer {
	const { epoch, lacks, lacks_photos } = (value ?? {}) as Partial<DigestAnswer>;
	return typeof epoch === "string" && Array.isArray(lacks) && Array.isArray(lacks_photos);
}
