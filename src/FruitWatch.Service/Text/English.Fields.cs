using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string FieldsFillIn => "Is required: fill it in.";

    public override string FieldsOneLine => "Write it on one line, without control characters.";

    public override string FieldsDay => "Give a day, such as 2026-05-31.";

    public override string FieldsTime => "Give a time of day, such as 06:30.";

    public override string FieldsTimeBetween(LocalTime first, LocalTime last) =>
        $"Give a time from {first.ToString("HH:mm", Culture)} to {last.ToString("HH:mm", Culture)}.";

    public override string FieldsZone => "Give a time zone by its IANA name, such as Europe/Madrid.";

    public override string FieldsAddress => "Give one e-mail address, such as ana@example.org.";

    public override string FieldsLanguage => "Give a language that is spoken here: en or es.";

    public override string FieldsOutdated => "Somebody else changed it meanwhile. Nothing was saved: look at what it is now, and change it again.";

    public override string FieldsNotTaken => "Not saved yet:";

    public override string FieldsSave => "Save";

    public override string FieldsSaved => "Saved.";

    public override string FieldsOptional => "may stay empty";
}
