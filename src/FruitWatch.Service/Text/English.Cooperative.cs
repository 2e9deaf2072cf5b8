namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string CoopTitle => "Cooperative";

    public override string CoopLead => "What holds for everybody in it.";

    public override string CoopSettings => "Settings";

    public override string CoopName => "Name";

    public override string CoopGrowersReadAll => "Growers may read each other's beds";

    public override string CoopGrowersReadAllSaid => "What they may change is their own in any case.";

    public override string CoopSave => "Save";

    public override string CoopSaved => "Saved.";

    public override string CoopGiveName => "Give it a name of 1 to 120 characters, on one line.";

    public override string CoopConflict => "Somebody else changed it meanwhile. Look at it again, and save again.";

    public override string CoopMore => "More";

    public override string CoopToWebhooks => "Programs that are told when something happens.";

    public override string CoopToAudit => "Who changed what, for two years back.";

    public override string CoopToExport => "Everything that is kept here, to take along.";

    public override string CoopToDelete => "The end of the cooperative here, and of all that is kept.";

    public override string ExportTitle => "Export";

    public override string ExportLead => "Everything of the cooperative in one file. That it was taken is noted in the audit.";

    public override string ExportJson => "JSON, to move elsewhere";

    public override string ExportJsonSaid => "One document. Another FruitWatch takes it in as it is, and gives the same document back.";

    public override string ExportCsv => "CSV, for spreadsheets";

    public override string ExportCsvSaid => "One table a subject, packed as a zip. Units stand in the head; text that a spreadsheet would take for a formula begins with an apostrophe.";

    public override string ExportDownload => "Download";

    public override string ExportNotIn => "Not in it: passwords, tokens, personal links, providers' keys and webhooks' secrets, mails, and this service's audit.";

    public override string ExportPersonal => "It holds names and addresses of people. Keep it where only you can read it, and delete it when it has served.";

    public override string DeleteTitle => "Delete the cooperative";

    public override string DeleteLead => "Everything goes: people, sites, beds, the log, weather, forecasts, notices, mails, feeds, webhooks, tokens and the audit. It cannot be taken back.";

    public override string DeleteExportFirst => "To keep it, export it first.";

    public override string DeleteBackups => "Copies that the operator has made keep it until they are thrown away. Ask them for how long that is.";

    public override string DeleteConfirm => "Type the name of the cooperative";

    public override string DeleteButton => "Delete everything";

    public override string DeleteWrongName => "That is not its name. Nothing was deleted.";

    public override string DeleteDone => "The cooperative is deleted";

    public override string DeleteDoneSaid => "Nothing of it is kept here any more.";

    public override string PersonLastCoordinator => "This is the last coordinator. Make somebody else a coordinator first, or delete the cooperative.";
}
