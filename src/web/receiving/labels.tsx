/** The labels of a delivery's lots as a PDF: for a label printer, or on sheets. */
export function Labels({ delivery }: { delivery: string }) {
  const address = `/api/deliveries/${encodeURIComponent(delivery)}/labels.pdf`;
  return (
    <div className="row">
      <a className="button primary" href={`${address}?sheet=roll`} target="_blank" rel="noreferrer">
        Labels for the label printer (PDF)
      </a>
      <a className="button" href={`${address}?sheet=a4`} target="_blank" rel="noreferrer">
        Labels on A4 sheets (PDF)
      </a>
    </div>
  );
}
