//! The application: one function a task, plain data in and out.
