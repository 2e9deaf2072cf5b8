using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string FieldsFillIn => "Falta: hay que rellenarlo.";

    public override string FieldsOneLine => "En una sola línea, sin caracteres de control.";

    public override string FieldsDay => "Un día, como 2026-05-31.";

    public override string FieldsTime => "Una hora del día, como 06:30.";

    public override string FieldsTimeBetween(LocalTime first, LocalTime last) =>
        $"Una hora entre las {first.ToString("HH:mm", Culture)} y las {last.ToString("HH:mm", Culture)}.";

    public override string FieldsZone => "Un huso horario por su nombre IANA, como Europe/Madrid.";

    public override string FieldsAddress => "Una dirección de correo, como ana@example.org.";

    public override string FieldsLanguage => "Un idioma que aquí se hable: en o es.";

    public override string FieldsOutdated => "Otra persona lo cambió entretanto. No se guardó nada: mira cómo está ahora y vuelve a cambiarlo.";

    public override string FieldsNotTaken => "Aún no está guardado:";

    public override string FieldsSave => "Guardar";

    public override string FieldsSaved => "Guardado.";

    public override string FieldsOptional => "puede quedar vacío";
}
