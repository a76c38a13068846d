"""Pages to a PDF that prints at full size. The same document gives the same bytes, whatever was written before it.

What is on a page is written by `operators.py`, the objects by us too; of the library the file itself is made. Its canvas writes each
number and each letter by a call of its own, and took five times as long.
"""

from __future__ import annotations

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFDocument

from lessonkit.drawing.items import Document
from lessonkit.writers.embedding import embed
from lessonkit.writers.objects import Info, Written, added, bookmarks, compressed, stream, text_string
from lessonkit.writers.operators import Drawn

rl_config.pdfComments = 0  # else every object of the file has a remark


def write_pdf(document: Document) -> bytes:
    """The document as PDF: sizes exact, fonts embedded as subsets, a bookmark for each page, no scaling by the viewer's wish.

    Text is drawn as it stands, never read as markup; a no-break space comes out as a space. A character that no face has
    is drawn as an empty box (see `drawing.fonts.missing`). Raises ValueError for a document without pages."""
    return pdf_of(document, Drawn(document.pages))


def pdf_of(document: Document, drawn: Drawn) -> bytes:
    """The same, of pages that have been drawn."""
    if not document.pages:
        raise ValueError(f"the document {document.title!r} has no pages")
    file, tree = PDFDocument(invariant=1, pdfVersion=(1, 4)), Written()
    parent = added(file, tree)
    pages = _add_pages(file, drawn, parent)
    tree.content = f"<</Type /Pages /Count {len(pages)} /Kids [{' '.join(pages)}]>>"
    outline = bookmarks(file, [(page.name, name) for page, name in zip(document.pages, pages, strict=True)])
    file.Catalog = Written(
        f"<</Type /Catalog /Pages {parent} /Lang {text_string(document.language)} /Outlines {outline}"
        " /PageLabels <</Nums [0 <</S /D /St 1>>]>> /ViewerPreferences <</PrintScaling /None /DisplayDocTitle true>>>>"
    )
    file.info = Info(f"<</Title {text_string(document.title)} /Creator (lessonkit) /Producer (ReportLab)>>")
    data: bytes = file.GetPDFData(None)
    return data


def _add_pages(file: PDFDocument, drawn: Drawn, parent: str) -> list[str]:
    """Returns what the file's other objects call them."""
    pictures = " ".join([f"/{name} {added(file, picture)}" for name, picture in drawn.pictures.items()])
    resources = added(file, f"<</Font {embed(file, drawn.shown)} /XObject <<{pictures}>>>>")
    contents = [added(file, stream(compressed(operators))) for _, operators in drawn.sheets]
    return [
        added(file, f"<</Type /Page /Parent {parent} /MediaBox {box} /Contents {content} /Resources {resources}>>")
        for (box, _), content in zip(drawn.sheets, contents, strict=True)
    ]
