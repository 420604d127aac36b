//! The headings under which tables name what customers are known by.
//!
//! Common practice, no source: the headings of address books and tills, in the languages of western Europe. A heading is
//! compared by its letters alone, without case and marks: "E-mail 1" is `email`.

use shared::text::folded;

/// What a column has.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum CustomerColumn {
    /// The whole name.
    Name,
    /// The first name.
    First,
    /// The last name.
    Last,
    /// The name of a company: the name of a customer without another one, else a part of the note.
    Company,
    /// A telephone number.
    Phone,
    /// A number of a mobile telephone.
    Mobile,
    /// An e-mail address.
    Email,
    /// The address, or a line of it.
    Address,
    /// A remark.
    Note,
    /// The id under which this app has written the customer.
    Id,
}

/// The headings, by their letters, separated by spaces.
const HEADS: [(CustomerColumn, &str); 10] = [
    (
        CustomerColumn::Name,
        "name fullname customer customername client clientname displayname contact contactname \
         kunde kundenname nomcomplet nombrecompleto nomecompleto cliente naam klant",
    ),
    (
        CustomerColumn::First,
        "first firstname givenname forename vorname prenom nombre nome voornaam",
    ),
    (
        CustomerColumn::Last,
        "last lastname surname familyname nachname familienname zuname nom nomdefamille apellido \
         apellidos cognome achternaam",
    ),
    (
        CustomerColumn::Company,
        "company companyname organisation organization firma societe entreprise empresa azienda \
         bedrijf",
    ),
    (
        CustomerColumn::Phone,
        "phone phonenumber phoneno phonesecond phonevalue telephone telephonenumber telephoneno \
         tel telno telnumber homephone workphone businessphone landline telefon telefonnummer \
         telefonprivat festnetz telefono telefoon telefoonnummer",
    ),
    (
        CustomerColumn::Mobile,
        "mobile mobilephone mobilenumber mobileno cell cellphone cellular gsm handy handynummer \
         mobil mobilnummer mobiltelefon portable telephoneportable movil cellulare mobiel \
         mobielnummer",
    ),
    (
        CustomerColumn::Email,
        "email emailaddress emailvalue mail mailaddress emailadresse mailadresse courriel correo \
         correoelectronico emailadres",
    ),
    (
        CustomerColumn::Address,
        "address addressline postaladdress homeaddress street streetaddress housenumber \
         homestreet homecity homepostalcode city town county state province region country \
         postcode postalcode zip zipcode adresse anschrift strasse hausnummer plz postleitzahl \
         ort stadt wohnort land rue ville codepostal pays direccion calle ciudad provincia pais \
         codigopostal indirizzo via cap citta adres straat huisnummer plaats woonplaats",
    ),
    (
        CustomerColumn::Note,
        "note notes remark remarks comment comments memo notiz notizen bemerkung bemerkungen \
         remarque remarques nota notas opmerking opmerkingen",
    ),
    (CustomerColumn::Id, "customerid"),
];

/// The letters of a heading, in lower case and without marks.
pub(super) fn letters(head: &str) -> String {
    let mut folded = folded(head);
    folded.retain(char::is_alphabetic);
    folded
}

/// What a column with this heading has; `None` if the heading is not known.
pub(super) fn customer_column(head: &str) -> Option<CustomerColumn> {
    let head = letters(head);
    let known = HEADS
        .iter()
        .find(|(_, heads)| heads.split(' ').any(|known| known == head));
    known.map(|(column, _)| *column)
}
