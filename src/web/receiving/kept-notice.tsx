import { useEffect, useRef } from 'react';
import { Notice } from '../design/page.js';

/** What became of a delivery that found no connection. It takes the focus: the button was at the foot of a long page. */
export function KeptNotice() {
  const notice = useRef<HTMLDivElement>(null);
  useEffect(() => notice.current?.focus(), []);
  return (
    <div role="status" tabIndex={-1} ref={notice}>
      <Notice>
        <p>
          There is no connection. The delivery is kept on this device and will be sent once, by itself. Its lot codes and labels come when
          it has been booked: look under “Booked lately”.
        </p>
      </Notice>
    </div>
  );
}
