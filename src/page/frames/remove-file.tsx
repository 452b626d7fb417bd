// page: a dropped file → the button that takes it out of the inbox.
import { callApi } from "../../api/call-api.js";
import type { InboxFile } from "../../api/inbox-schema.js";
import { announceError } from "../state/announce.js";
import { refreshInboxSoon } from "../state/job-data.js";

/** Take a file out of the inbox. */
export function RemoveFile({ job, file }: { readonly job: string; readonly file: InboxFile }) {
  const remove = (): void => {
    callApi("removeFromInbox", { job, sha256: file.sha256 }).then(refreshInboxSoon, announceError);
  };
  return (
    <button type="button" class="quiet" aria-label={`Remove ${file.names[0]}`} onClick={remove}>
      Remove
    </button>
  );
}
