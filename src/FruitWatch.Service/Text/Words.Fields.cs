using NodaTime;

namespace FruitWatch.Service.Text;

// What is wrong with a field, in forms and in the API alike.
internal abstract partial class Words
{
    public abstract string FieldsFillIn { get; }

    public abstract string FieldsOneLine { get; }

    public abstract string FieldsDay { get; }

    public abstract string FieldsTime { get; }

    public abstract string FieldsTimeBetween(LocalTime first, LocalTime last);

    public abstract string FieldsZone { get; }

    public abstract string FieldsAddress { get; }

    public abstract string FieldsLanguage { get; }

    /// <summary>Somebody else has changed it since the form was opened.</summary>
    public abstract string FieldsOutdated { get; }

    /// <summary>Head of what is wrong with a form.</summary>
    public abstract string FieldsNotTaken { get; }

    public abstract string FieldsSave { get; }

    public abstract string FieldsSaved { get; }

    /// <summary>Stands beside a field that may be left empty.</summary>
    public abstract string FieldsOptional { get; }
}
