namespace FruitWatch.Service.Text;

// The cooperative itself.
internal abstract partial class Words
{
    public abstract string CoopTitle { get; }

    public abstract string CoopLead { get; }

    public abstract string CoopSettings { get; }

    public abstract string CoopName { get; }

    public abstract string CoopGrowersReadAll { get; }

    public abstract string CoopGrowersReadAllSaid { get; }

    public abstract string CoopSave { get; }

    public abstract string CoopSaved { get; }

    public abstract string CoopGiveName { get; }

    public abstract string CoopConflict { get; }

    public abstract string CoopMore { get; }

    public abstract string CoopToWebhooks { get; }

    public abstract string CoopToAudit { get; }

    public abstract string CoopToExport { get; }

    public abstract string CoopToDelete { get; }

    public abstract string ExportTitle { get; }

    public abstract string ExportLead { get; }

    public abstract string ExportJson { get; }

    public abstract string ExportJsonSaid { get; }

    public abstract string ExportCsv { get; }

    public abstract string ExportCsvSaid { get; }

    public abstract string ExportDownload { get; }

    public abstract string ExportNotIn { get; }

    public abstract string ExportPersonal { get; }

    public abstract string DeleteTitle { get; }

    public abstract string DeleteLead { get; }

    public abstract string DeleteExportFirst { get; }

    public abstract string DeleteBackups { get; }

    public abstract string DeleteConfirm { get; }

    public abstract string DeleteButton { get; }

    public abstract string DeleteWrongName { get; }

    public abstract string DeleteDone { get; }

    public abstract string DeleteDoneSaid { get; }

    /// <summary>Why a person stays.</summary>
    public abstract string PersonLastCoordinator { get; }
}
