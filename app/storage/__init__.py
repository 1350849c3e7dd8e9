"""Keeps the shop's data in one SQLite file: opens, reads, writes, finds, lists and backs it up.

Owns rows, SQL and the mapping between rows and the domain's values, which alone go in and out. Only
services commit.
"""

from app.storage.backup import (
    back_up,
    back_up_file,
    check_database,
    check_is_copy,
    copy_checked,
    damage_of,
    restore,
    restore_into,
)
from app.storage.copies import Copies, Copy, Place, Why
from app.storage.damage import has_sums
from app.storage.engine import DATABASE_NAME, Store
from app.storage.errors import (
    CannotWrite,
    Damaged,
    DataInUse,
    DiskFull,
    NewerDatabase,
    NotInPlace,
    NotOurDatabase,
    OnlyLookedAt,
    StillRead,
    is_full,
    not_written,
)
from app.storage.integrity import problems_of
from app.storage.keys import Keys, keys_of, new_standing, read_keys
from app.storage.lock import claimed
from app.storage.lost import Lost, lost_by
from app.storage.machine import FIRST_LIFE, Machine
from app.storage.migrating import SCHEMA, schema_of
from app.storage.paging import ListPage, PageRequest, Stale, Stamp, Versioned
from app.storage.privacy import BACKUPS
from app.storage.privacy import FILE as PRIVATE_FILE
from app.storage.reset import empty
from app.storage.rotation import staying
from app.storage.search_text import digits_of, same_phone, words_of
from app.storage.tables.clock import KnownMoment
from app.storage.tables.customers import ERASED_NAME, CustomerSummary
from app.storage.tables.desk import DeskView, Tray
from app.storage.tables.invoices import Issued, MonthOfInvoices, standing_invoice
from app.storage.tables.numbered import NumberedPaper, PaperKind
from app.storage.tables.order_filters import ANY_ORDER, OrderFilter, OrderSort
from app.storage.tables.order_lists import CustomerSums, OrderSummary
from app.storage.tables.order_pieces import Frozen, NewPiece
from app.storage.tables.orders import NewQuote
from app.storage.tables.phones import Phone, PhoneAccess
from app.storage.tables.pictures import Picture, PictureShape, TrayPicture, picture_id
from app.storage.tables.pieces import KeptPiece
from app.storage.tables.plan_lists import PlanSummary
from app.storage.tables.sent_forms import SENT, Answer, PutBack, SentBefore, SentForm
from app.storage.tables.shop import Series
from app.storage.tables.stock_lists import ANY_STOCK, StockFilter, StockLine
from app.storage.tables.supplier_orders import Coming, SupplierOrderSummary
from app.storage.unit_of_work import UnitOfWork

__all__ = [
    "ANY_ORDER",
    "ANY_STOCK",
    "BACKUPS",
    "DATABASE_NAME",
    "ERASED_NAME",
    "FIRST_LIFE",
    "PRIVATE_FILE",
    "SCHEMA",
    "SENT",
    "Answer",
    "CannotWrite",
    "Coming",
    "Copies",
    "Copy",
    "CustomerSummary",
    "CustomerSums",
    "Damaged",
    "DataInUse",
    "DeskView",
    "DiskFull",
    "Frozen",
    "Issued",
    "KeptPiece",
    "Keys",
    "KnownMoment",
    "ListPage",
    "Lost",
    "Machine",
    "MonthOfInvoices",
    "NewPiece",
    "NewQuote",
    "NewerDatabase",
    "NotInPlace",
    "NotOurDatabase",
    "NumberedPaper",
    "OnlyLookedAt",
    "OrderFilter",
    "OrderSort",
    "OrderSummary",
    "PageRequest",
    "PaperKind",
    "Phone",
    "PhoneAccess",
    "Picture",
    "PictureShape",
    "Place",
    "PlanSummary",
    "PutBack",
    "SentBefore",
    "SentForm",
    "Series",
    "Stale",
    "Stamp",
    "StillRead",
    "StockFilter",
    "StockLine",
    "Store",
    "SupplierOrderSummary",
    "Tray",
    "TrayPicture",
    "UnitOfWork",
    "Versioned",
    "Why",
    "back_up",
    "back_up_file",
    "check_database",
    "check_is_copy",
    "claimed",
    "copy_checked",
    "damage_of",
    "digits_of",
    "empty",
    "has_sums",
    "is_full",
    "keys_of",
    "lost_by",
    "new_standing",
    "not_written",
    "picture_id",
    "problems_of",
    "read_keys",
    "restore",
    "restore_into",
    "same_phone",
    "schema_of",
    "standing_invoice",
    "staying",
    "words_of",
]
